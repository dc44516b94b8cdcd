"""sheetgen: a short YAML description of a home-brewed batch in, a stapled set of paper out."""

__version__ = "0.1.0"
RULES_OF = "2026-11-25"
"""The day on which a limit, a ceiling or a wait last changed; the why-page and the plan say it."""
