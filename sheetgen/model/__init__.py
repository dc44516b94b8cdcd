"""What a person described, in base units: recipes, drinks, the pantry, bottles, and the batch itself.

Comes in: values that intake has read and checked.  Goes out: frozen records for planning.  Nothing here
computes.  Numbers are floats named by their unit's type (litres, grams, degrees Celsius, specific gravity,
volumes of CO2); fractions run from 0 to 1.  Where a value was written is kept beside the batch in
`Batch.where` (names of parts, too: "equipment:"), never inside a value.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from datetime import date, time
from types import MappingProxyType
from typing import Literal

from sheetgen.model.actual import Bottled as Bottled
from sheetgen.model.actual import GasFelt as GasFelt
from sheetgen.model.actual import Looked as Looked
from sheetgen.model.actual import Reading as Reading
from sheetgen.model.actual import Tasted as Tasted
from sheetgen.model.bottles import Bottles as Bottles
from sheetgen.model.bottles import Container as Container
from sheetgen.model.days import WORKS as WORKS
from sheetgen.model.days import Shifts as Shifts
from sheetgen.model.days import Weekly as Weekly
from sheetgen.model.days import Work as Work
from sheetgen.model.drink import Drink as Drink
from sheetgen.model.drink import DrinkGate as DrinkGate
from sheetgen.model.drink import Job as Job
from sheetgen.model.drink import Keeping as Keeping
from sheetgen.model.event import Event as Event
from sheetgen.model.event import Serving as Serving
from sheetgen.model.reminders import Alarms as Alarms
from sheetgen.model.reminders import OldPlan as OldPlan
from sheetgen.model.reminders import OldTask as OldTask
from sheetgen.model.room import Room as Room
from sheetgen.model.room import Warmth as Warmth
from sheetgen.problems import Said, Span
from sheetgen.records import record
from sheetgen.units import Celsius, Grams, Gravity, Litres, Metres, Millilitres, Volumes

Role = Literal[
    "extract",
    "sugar",
    "honey",
    "grain",
    "juice",
    "fruit",
    "hops",
    "fining",
    "nutrient",
    "spice",
    "acid",
    "water",
]
Stage = Literal["pot", "boil", "off-heat", "vessel", "day", "dry-hop", "rack"]
Substance = Literal["water", "malt syrup", "dry solids"]
AmountUnit = Literal["g", "ml", "piece"]
Dosing = Literal["weight", "teaspoons", "in-bulk", "syrup", "pieces"]
FillBy = Literal["in-order", "least-over"]
UnitSystem = Literal["metric", "us", "uk"]
KeptHow = Literal["cold", "dry", "frozen"]
WholePacks = Literal["exact", "volume-follows", "strength-follows"]


@record
class Keeps:
    """How long what is left of an opened pack keeps, closed again: `cold` covered in the fridge, `dry`
    airtight and dark, `frozen` airtight in the freezer.
    """

    days: int
    how: KeptHow


@record
class PantryItem:
    """One line of the pantry: what a kilogram (or, for a juice, a litre) of an ingredient brings along.

    `points`: litre-degrees a kilogram (300: 1 kg in 10 L reads 1.030); for a juice, a litre.
    `points_range`: the lowest and highest figure that is met with.
    `attenuation`: lowest and highest apparent share of them that ferments (above 1: alcohol is light).
    `litres_each`: litres of volume added by a kilogram (by a litre, for a juice: 1).
    `usual`: lowest and highest usual dose for a litre of drink, in `unit`.  `sulphite_mg`: milligrams of
    sulphur dioxide that a unit of it sets free.
    """

    id: str
    role: Role
    points: float
    points_range: tuple[float, float]
    attenuation: tuple[float, float]
    litres_each: float
    unit: AmountUnit
    substance: Substance
    allergens: tuple[str, ...] | None
    source: str
    usual: tuple[float, float] | None = None
    sulphite_mg: float = 0.0
    keeps: Keeps | None = None


@record
class Moment:
    """When an ingredient goes in: a stage, with minutes before the end of the boil, or the day after
    pitching; at stage "rack", `day` is the number of the racking.
    """

    stage: Stage
    minutes: float = 0.0
    day: int = 0


@record
class Ingredient:
    """An ingredient of a recipe: `amount` in grams, millilitres or pieces as `item.unit` says, for
    `Recipe.litres`; `packs` are the sizes it is sold in, largest first.
    """

    item: PantryItem
    name: str
    amount: float
    when: Moment
    packs: tuple[float, ...] = ()
    alpha_percent: float | None = None
    colour_lovibond: float | None = None


@record
class Yeast:
    """The yeast of a recipe; `celsius` is the range it works in, `pack` the grams in a sachet.

    `attenuation`: the apparent share of malt sugar it says it ferments; None for an ordinary one.
    """

    name: str
    kind: Literal["ale", "lager", "wine"]
    pack: Grams
    celsius: tuple[Celsius, Celsius]
    attenuation: tuple[float, float] | None = None


@record
class YeastAtHand:
    """The yeast that is there: the last good day printed on it, and whether it was open before."""

    printed: date | None = None
    opened: bool = False


@record
class Recipe:
    """A recipe as written, for `litres` in the fermenter."""

    id: str
    name: str
    drink: Drink
    litres: Litres
    ingredients: tuple[Ingredient, ...]
    yeast: Yeast
    boil_minutes: float | None = None
    carbonation: Volumes | None = None
    keeping: Keeping | None = None
    about: str = ""


@record
class Sanitiser:
    """What cleans or sanitises the gear: dose for a litre, minutes, whether to rinse.  The label wins.

    `cleans`: it takes dirt off; otherwise it sanitises what is clean.  `warm`: mixed with warm water.
    `not_on`: materials that it must not touch.  `family`: what it is made of, as its caution is called.
    """

    id: str
    dose: float
    dose_unit: AmountUnit
    minutes: tuple[float, float]
    rinse: bool
    cleans: bool = False
    warm: bool = False
    not_on: tuple[str, ...] = ()
    family: str | None = None


_FRESH = YeastAtHand()
_AT = Celsius(20.0)
_WATER = Gravity(1.0)


@record
class Hydrometer:
    """The instrument: the temperature it is made for, and what it reads in plain water at it."""

    calibrated: Celsius = _AT
    in_water: Gravity = _WATER


_NO_ICE = Grams(0.0)


@record
class Water:
    """Water at hand; `fridge_space` litres can be cold by brew day, `ice` is clean and may be drunk."""

    tap: Celsius
    fridge: Celsius
    fridge_space: Litres
    altitude: Metres
    ice: Grams = _NO_ICE


@record
class Equipment:
    """Gear at hand.  `vessel` or `pot` None: the file does not say; planning takes what the batch needs and
    says so.  `boil_off`: litres of steam an hour, None: what is usual.  Without a hydrometer, looks decide.
    """

    vessel_name: str
    vessel: Litres | None
    pot: Litres | None
    hydrometer: Hydrometer
    cleaner: Sanitiser
    sanitiser: Sanitiser
    scales: Grams
    bottling_vessel: Litres | None = None
    boil_off: Litres | None = None
    has_hydrometer: bool = True


@record
class Added:
    """Something that went in on a day, outside the recipe."""

    on: date
    what: PantryItem | None
    name: str
    amount: float


@record
class Actual:
    """What really happened so far.  `facts` counts what was entered: it is the set's revision; `done` are the
    drink's jobs with their days.
    """

    brewed: date | None = None
    pitched: date | None = None
    original_gravity: Gravity | None = None
    original_celsius: Celsius | None = None
    litres: Litres | None = None
    readings: tuple[Reading, ...] = ()
    dry_hopped: date | None = None
    added: tuple[Added, ...] = ()
    warmed: tuple[tuple[date, Celsius], ...] = ()
    skin_seen: bool = False
    finish_test: Gravity | None = None
    warmest: Celsius | None = None
    bottled: Bottled | None = None
    facts: int = 0
    finish_celsius: Celsius | None = None
    done: tuple[tuple[str, date], ...] = ()
    looks: tuple[Looked, ...] = ()
    tasted: tuple[Tasted, ...] = ()


@record
class Labels:
    """Which stocks to print on, the first free label of a part-used sheet (from 1), and the printer's faults:
    how far right and down it must be told to print (mm), and what it makes of 100 mm across and down.
    """

    stock: str | None
    discs: str | None
    start_at: int = 1
    discs_start_at: int = 1
    tags: str | None = None
    bands: str | None = None
    shift_mm: tuple[float, float] = (0.0, 0.0)
    bars_mm: tuple[float, float] = (100.0, 100.0)


@record
class Assumption:
    """A value that was not given: which (its key in the batch file), and the sentence that states it."""

    key: str
    said: Said


@record
class SugarPiece:
    """A piece of a sugar, as it is bought: its weight in grams."""

    id: str
    grams: Grams
    sugar: str


_NO_PIECE = Grams(0.0)
_EVENING = Alarms()


@record
class Batch:
    """One batch as described, every default filled in and listed in `assumptions`.

    `litres` is the volume in the fermenter; None when `bottle_goal` (count, ml) is to be solved backwards.
    `whole_packs`: what gives way to whole packs; "exact" is nothing, and what is left of a pack is kept.
    `my_days`: weekdays (Monday 0) for hands-on work, None for any; `work_days`: those of one kind of work;
    `extra_days`, `extra_spans` and `public_days` are free although not among them; `shifts` take days.
    `away`: first and last day, both included.  `where`: dotted key such as "room.fermenting" or "bottles.0"
    to the
    place that said it; `sources`: (file name, text) of everything that is needed to make this set again.
    `taken`: days on which another batch is brewed or bottled; none is filled then.
    `piece`: grams of one piece of sugar (0: not dosed by the piece); `containers`: every kind of bottle that
    is known, for saying which would hold more; `keepings`: every way of keeping.
    `events`: what it is brewed for, the earliest first; with `day_open` the brew day is planned back from the
    first of them, and `brew_day` only holds its place; without litres and `bottle_goal`, guests decide.
    `cold_days`: days in the cold between the last reading and bottling.
    """

    code: str
    recipe: Recipe
    brewer: str
    litres: Litres | None
    bottle_goal: tuple[int, Millilitres] | None
    brew_day: date
    start: time | None
    room: Room
    water: Water
    equipment: Equipment
    bottles: tuple[Bottles, ...]
    my_days: frozenset[int] | None
    extra_days: frozenset[date]
    away: tuple[tuple[date, date], ...]
    carbonation: Volumes | None
    sugar: str
    dosing: Dosing
    paper: str
    labels: Labels
    language: str
    units: UnitSystem
    actual: Actual
    yeast: YeastAtHand = _FRESH
    whole_packs: WholePacks = "exact"
    assumptions: tuple[Assumption, ...] = ()
    where: Mapping[str, Span] = field(default_factory=lambda: MappingProxyType({}), compare=False)
    sources: tuple[tuple[str, str], ...] = field(default=(), compare=False)
    fill: FillBy = "in-order"
    piece: Grams = _NO_PIECE
    containers: tuple[Container, ...] = ()
    alarms: Alarms = _EVENING
    work_days: tuple[tuple[Work, Weekly], ...] = ()
    extra_spans: tuple[tuple[date, date], ...] = ()
    public_days: frozenset[date] = frozenset()
    shifts: tuple[Shifts, ...] = ()
    events: tuple[Event, ...] = ()
    day_open: bool = False
    keepings: tuple[Keeping, ...] = ()
    taken: frozenset[date] = frozenset()
    cold_days: int = 0
