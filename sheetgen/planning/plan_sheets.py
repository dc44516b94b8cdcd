"""The part of the plan that is read step by step: actions, lists, and the safety sheet.

Comes in: what the other modules of planning worked out.  Goes out: records that `Plan` is made of; see
`sheetgen.planning.plan` for their units.
"""

from __future__ import annotations

from datetime import date, datetime
from typing import Literal

from sheetgen.problems import Said
from sheetgen.records import record


@record
class Amount:
    """A number to print: grams, ml, L, C, min, h or piece."""

    value: float
    unit: Literal["g", "ml", "L", "C", "min", "h", "piece", "SG"]


@record
class Step:
    """One action: its sentence, the number it needs, what to write down, and the caution that belongs to the
    hand.

    `group` is the id of the heading it stands under; `minutes` its usual length; `clock` its time of day when
    the start is known; `left_min` minutes to the end of the boil, for what goes into the boiling pot;
    `instead` other ways to the same end.
    """

    said: Said
    group: str
    amount: Amount | None = None
    note: Said | None = None
    caution: str | None = None
    write: Amount | None = None
    minutes: float = 0.0
    clock: datetime | None = None
    left_min: float | None = None
    instead: tuple[Said, ...] = ()


@record
class Line:
    """A line of a list: what, with how much, and by when."""

    said: Said
    amount: Amount | None = None
    by: date | None = None
    note: Said | None = None


@record
class Sanitising:
    """The sanitiser: litres to mix and the dose for each day, minutes of contact, whether to rinse."""

    product: str
    brew_day_l: float
    brew_day_dose: float
    bottling_day_l: float
    bottling_day_dose: float
    dose_unit: str
    minutes: tuple[float, float]
    rinse: bool


@record
class CleaningPart:
    """What a mix is for, and the litres that it takes."""

    what: Literal["vessel", "small-gear", "bottles", "bottling-vessel"]
    litres: float


@record
class Cleaning:
    """One mix for one day: `dose` of the product in `litres` of water, enough for all its `parts`.

    What a bottling vessel was swirled with goes on into the bottles, so it does not add to their part.
    `soaks`: it takes a time of its own, and is a step of its own.  `caution`: the id of its caution.
    """

    day: Literal["brew", "bottling"]
    what: Literal["clean", "sanitise"]
    product: str
    litres: float
    dose: float
    dose_unit: str
    minutes: tuple[float, float]
    rinse: bool
    water: Literal["cold", "warm"]
    soaks: bool
    parts: tuple[CleaningPart, ...]
    caution: str | None


@record
class Lists:
    """Shop and gather.  `left_overs`: what is left of opened packs, `by` the last day that it keeps.
    `about_packs`: what other ways of treating packs would give.
    """

    buy: tuple[Line, ...]
    set_out: tuple[Line, ...]
    evening_before: tuple[Line, ...]
    sanitising: Sanitising
    cleaning: tuple[Cleaning, ...]
    left_overs: tuple[Line, ...] = ()
    about_packs: tuple[Said, ...] = ()


@record
class Safety:
    """Set when closed bottles are dangerous: the one sheet that replaces the set."""

    because: tuple[Said, ...]
    cautions: tuple[str, ...]


@record
class Trouble:
    """One thing that may go otherwise: when it is this, what to do, the caution that stands above it, and
    whether the batch is there just now.
    """

    id: str
    when: Said
    then: tuple[Said, ...]
    caution: str | None = None
    now: bool = False


@record
class TroubleCard:
    """What to do when it goes otherwise: the batch's own numbers, then troubles by where the drink is."""

    facts: tuple[Said, ...]
    vessel: tuple[Trouble, ...]
    bottles: tuple[Trouble, ...]
    any_day: tuple[Trouble, ...]
