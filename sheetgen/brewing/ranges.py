"""One guard for every formula: a value outside its valid range is an error, never an extrapolation."""

BINARY_NOISE = 1e-9


def require(name: str, value: float, lowest: float, highest: float, unit: str = "") -> float:
    """Give `value` back if lowest <= value <= highest (all in `unit`), else raise ValueError.

    The message names value and range. Binary noise of 0.000000001 at the ends is let through; not-a-number is
    outside every range. Source: none needed, a comparison.
    """
    if lowest - BINARY_NOISE <= value <= highest + BINARY_NOISE:
        return value
    raise ValueError(f"{name} {value:g} is outside {lowest:g} to {highest:g} {unit}".rstrip())
