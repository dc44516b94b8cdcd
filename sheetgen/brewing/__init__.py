"""The formulas of the trade: numbers in, numbers out.

Every function is pure. Units are in the argument's name or in its docstring; a value outside the range for
which a formula holds raises ValueError naming that range. Nothing here knows dates, files, units as text,
or paper.
"""
