"""sheetgen: a short YAML description of a home-brewed batch in, a stapled set of paper out."""

__version__ = "0.1.0"
