"""What gas does in a closed bottle: the verdict of its kind, pressures, and what-ifs.

Comes in: volumes of gas and kinds of bottle.  Goes out: `Verdict`, `Pressure`, `WhatIf`.
"""

from __future__ import annotations

from collections.abc import Sequence

from sheetgen.brewing import carbonation
from sheetgen.model import Bottles, Container
from sheetgen.planning.plan import Dose, Pressure, Verdict, WhatIf

PRESSURE_AT = (4.0, 20.0, 30.0, 40.0)
"""None is above the fit of the solubility: nothing that is printed is extrapolated."""
MOST_VOLUMES = 10.0
"""The gas that pressure is reckoned for at most; no bottle holds half of it."""
COOLER_C = 3.0
WARMEST_C = 45.0
"""As far as the solubility of the gas is known."""
MORE_SUGAR = 0.10
POINTS_OFF = 4.0


def is_above(volumes: float, limit: float) -> bool:
    """Whether the gas is above a container's limit, compared in whole thousandths of a volume; at it is not
    above.
    """
    return round(volumes * 1000) > round(limit * 1000)


def verdict_of(volumes: float, kind: Container) -> Verdict:
    """What a bottle says to so much gas: above its limit is refused, from its warning on is warned of."""
    if kind.refuse is None or kind.warn is None or is_above(volumes, kind.refuse):
        return "refuse"
    return "fine" if is_above(kind.warn, volumes) else "warn"


def bar(volumes: float, celsius: float, with_air: bool = False) -> float:
    """Gauge pressure; more gas than any bottle holds counts as the most that can be reckoned."""
    return carbonation.gauge_bar(min(volumes, MOST_VOLUMES), celsius, with_air)


def pressures(volumes: float) -> tuple[Pressure, ...]:
    """Gauge pressure of the fullest bottle at fridge, room, warm and hot, with sealed-in air as the upper
    bound.
    """
    return tuple(Pressure(at, bar(volumes, at), bar(volumes, at, with_air=True)) for at in PRESSURE_AT)


def _additions(sugar_volumes: float, most_residual: float, coolest: float) -> dict[str, float]:
    """Volumes that each what-if adds: one point unfinished; a tenth more sugar; the drink was never warmer
    than 3 C less, or 3 C more; it ends 4 points lower than it was bottled at; it ended 4 points higher, and
    is done.
    """
    cooler = carbonation.residual_volumes(max(0.0, coolest - COOLER_C)) - most_residual
    warmer = carbonation.residual_volumes(min(WARMEST_C, coolest + COOLER_C)) - most_residual
    return {
        "one-point-unfinished": carbonation.volumes_from_points(1),
        "ten-percent-more-sugar": sugar_volumes * MORE_SUGAR,
        "three-degrees-cooler": cooler,
        "three-degrees-warmer": warmer,
        "four-points-lower": carbonation.volumes_from_points(POINTS_OFF),
        "four-points-higher": 0.0,
    }


def _what_if(name: str, added: float, upper: float, kind: Container) -> WhatIf:
    volumes = upper + added
    at_20, at_30 = bar(volumes, 20.0), bar(volumes, 30.0)
    return WhatIf(
        id=name,
        volumes_added=added,
        bar_added_20=at_20 - bar(upper, 20.0),
        bar_added_30=at_30 - bar(upper, 30.0),
        volumes=volumes,
        bar_20=at_20,
        bar_30=at_30,
        kind=kind.id,
        limit_volumes=float(kind.refuse or 0.0),
        verdict=verdict_of(volumes, kind),
    )


def what_ifs(
    rows: Sequence[Bottles], sizes: Sequence[Dose], most_residual: float, coolest: float
) -> tuple[WhatIf, ...]:
    """What each thing that goes otherwise does to the bottle that is nearest to its limit."""
    pairs = [
        (row.kind, size.volumes_upper)
        for row, size in zip(rows, sizes, strict=True)
        if row.kind.refuse is not None
    ]
    kind, upper = min(pairs, key=lambda pair: float(pair[0].refuse or 0.0) - pair[1])
    added = _additions(max(0.0, upper - most_residual), most_residual, coolest)
    return tuple(_what_if(name, more, upper, kind) for name, more in added.items())
