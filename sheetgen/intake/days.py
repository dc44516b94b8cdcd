"""A person's days: `my-days`, `holidays`, `public-holidays`, `shifts` and `away` of a batch file.

Comes in: the form of the batch.  Goes out: `DaysSaid`.  What has two meanings, or leaves no day at all, is a
stop.
"""

from __future__ import annotations

from datetime import date, timedelta

from sheetgen.intake import mending, public_holidays
from sheetgen.intake.day_tables import TURNS, WEEKDAYS, WORK_DAYS
from sheetgen.intake.fields import Table
from sheetgen.intake.forms import Form, Place, key_meant, read_form, read_value
from sheetgen.model import WORKS, Recipe, Shifts, Weekly, Work
from sheetgen.nodes import Entries, Items, Node, Text
from sheetgen.problems import did_you_mean, said
from sheetgen.records import record
from sheetgen.units import Misread

LONGEST_ROUND = 366
"""Days of one round of shifts."""
FREE_NAMES = frozenset(("free", "off"))
_NAMES = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")

Spans = tuple[tuple[date, date], ...]


@record
class DaysSaid:
    """Everything that was said about days; `usual` None: nothing about days of the week."""

    usual: Weekly | None
    by_work: tuple[tuple[Work, Weekly], ...]
    extra_days: frozenset[date]
    extra_spans: Spans
    public_days: frozenset[date]
    shifts: tuple[Shifts, ...]
    away: Spans

    @property
    def my_days(self) -> frozenset[int] | None:
        """Days of the week for all hands-on work, if they are plain ones."""
        return self.usual.weekdays if self.usual and self.usual.first is None else None

    @property
    def work_days(self) -> tuple[tuple[Work, Weekly], ...]:
        """The days of each kind of work that has some of its own."""
        if self.usual is None or self.usual.first is None:
            return self.by_work
        return tuple((work, self.usual) for work in WORKS if work != "looking")


def read_days(form: Form) -> DaysSaid:
    """What the batch says about days; what is wrong goes to the desk's problems."""
    usual, by_work = _my_days(form)
    extra: list[tuple[date, date]] = form.lists("holidays")
    brew = form.values.get("brew-day")
    days = [form.place.desk.today, *([brew[0]] if brew else [])]
    public = form.values.get("public-holidays")
    return DaysSaid(
        usual=usual,
        by_work=by_work,
        extra_days=frozenset(first for first, last in extra if first == last),
        extra_spans=joined([(first, last) for first, last in extra if first != last]),
        public_days=public_holidays.days_of(public, days, form.place_of("public-holidays"))
        if public
        else frozenset(),
        shifts=tuple(each for inside in form.lists("shifts") if (each := _shifts(inside))),
        away=joined(form.lists("away")),
    )


def joined(ranges: list[tuple[date, date]]) -> Spans:
    """The ranges in order, those that overlap made one."""
    found: list[tuple[date, date]] = []
    for first, last in sorted(ranges):
        if found and first <= found[-1][1]:
            found[-1] = (found[-1][0], max(last, found[-1][1]))
        else:
            found.append((first, last))
    return tuple(found)


def my_days_of(days: DaysSaid, recipe: Recipe, form: Form) -> frozenset[int] | None:
    """The days of the week for all hands-on work; the work for which any day is taken is an assumption."""
    desk = form.place.desk
    if not form.said("my-days"):
        desk.assume("my-days", said("assume.my-days"))
    elif days.usual is None:
        own = dict(days.by_work)
        left = [work for work in _works_of(recipe) if work not in own]
        if left:
            desk.assume("my-days", said("assume.my-days-for", works="|".join(left)))
    return days.my_days


def _works_of(recipe: Recipe) -> tuple[Work, ...]:
    """The hands-on kinds of work that the recipe has."""
    adds = any(part.when.stage in ("day", "dry-hop") for part in recipe.ingredients)
    racks = any(not job.quick for job in recipe.drink.jobs)
    has = {"adding": adds, "racking": racks, "looking": False}
    return tuple(work for work in WORKS if has.get(work, True))


# Days of the week


def _my_days(form: Form) -> tuple[Weekly | None, tuple[tuple[Work, Weekly], ...]]:
    """Days for all work, or for each kind of it."""
    node = form.values.get("my-days")
    place = form.place_of("my-days")
    if not isinstance(node, Entries) or _is_turns(node):
        return (None if node is None else _weekly(node, place)), ()
    inside = read_form(node, WORK_DAYS, place)
    found = [
        (work, days)
        for work in WORKS
        if (own := inside.values.get(work)) is not None
        and (days := _weekly(own, inside.place_of(work))) is not None
    ]
    return None, tuple(found)


def _is_turns(node: Entries) -> bool:
    """Whether a mapping says days in turn, and not days by kind of work."""
    keys = [entry.key.value for entry in node.entries]
    return any(_is_key(key, TURNS) for key in keys) and not any(_is_key(key, WORK_DAYS) for key in keys)


def _is_key(key: str, table: Table) -> bool:
    return bool(key_meant(key, table.keys()))


def _weekly(node: Node, place: Place) -> Weekly | None:
    """Days of the week, every so manieth week if that is said; None if they cannot be read."""
    if not isinstance(node, Entries):
        found = _weekdays(node, place)
        return None if isinstance(found, Misread) else Weekly(found)
    form = read_form(node, TURNS, place)
    days = form.values.get("days")
    found = Misread("") if days is None else _weekdays(days, form.place_of("days"))
    first: date | None = form.values.get("from")
    if isinstance(found, Misread) or first is None or not _begins(found, first, form):
        return None
    return Weekly(found, form.get("every"), first)


def _weekdays(node: Node, place: Place) -> frozenset[int] | Misread | None:
    """Days of the week; None for any."""
    if isinstance(node, Text) and " ".join(node.value.lower().split()) in ("any", "any day", "all"):
        return None
    if isinstance(node, Items) and not node.items:
        place.stop("no day of the week stands here", "write [sat, sun], or any")
        return Misread("")
    found = read_value(WEEKDAYS, node, place)
    if isinstance(found, Misread) or not found:
        return Misread("")
    return frozenset(found)


def _begins(weekdays: frozenset[int] | None, first: date, form: Form) -> bool:
    """Whether these days can begin on that one; a weekend that begins on its Sunday has two meanings."""
    if weekdays is None or _is_start(first, weekdays):
        return True
    start = next(day for back in range(7) if _is_start(day := first - timedelta(days=back), weekdays))
    name = _NAMES[first.weekday()].capitalize()
    found = f"{first} is a {name}, and these days do not begin with a {name}"
    form.place_of("from").stop(found, f"write from: {start}, or {start + timedelta(days=7)}")
    return False


def _is_start(day: date, weekdays: frozenset[int]) -> bool:
    """Whether the day is one of them, and the first of those that follow each other."""
    before = (day.weekday() - 1) % 7
    return day.weekday() in weekdays and (before not in weekdays or len(weekdays) == 7)


# Shifts


def _shifts(form: Form) -> Shifts | None:
    """One round of shifts; None if it cannot be read."""
    first, last = form.values.get("from"), form.values.get("to")
    turns: list[tuple[str, int]] = form.lists("turns")
    written = form.nodes.get("turns")
    if isinstance(written, Items) and len(turns) < len(written.items):
        return None  # one of them could not be read, and that was told
    free = _free_names(form, [name for name, _ in turns])
    if first is None or not turns or free is None:
        return None
    if last is not None and last < first:
        form.place_of("to").stop(f"{last} is before {first}, where it begins", f"write a day from {first} on")
        return None
    off = tuple(name in free for name, days in turns for _ in range(days))
    if len(off) > LONGEST_ROUND:
        form.place_of("turns").stop(
            f"a round of {len(off)} days is too long", f"write at most {LONGEST_ROUND}"
        )
        return None
    return Shifts(first, off, last)


def _free_names(form: Form, names: list[str]) -> set[str] | None:
    """The turns that are free; a stop if none is, or all are."""
    known = list(dict.fromkeys(names))
    said_free = [" ".join(name.lower().split()) for name in form.lists("free")]
    free = set(said_free) if form.said("free") else FREE_NAMES & set(known)
    strange = next((name for name in said_free if name not in known), None)
    if not known:
        return None
    if strange is not None:
        fix = did_you_mean(strange, known) or f"write one of: {', '.join(known)}"
        form.place_of("free").stop(f'no turn is called "{strange[:40]}"', fix)
        return None
    if not free or free >= set(known):
        form.place_of("turns").stop(
            "all of these turns are free days" if free else "none of these turns is a free day",
            f"say which are, such as free: [{known[-1]}]",
            mending.added(form.node, "free", f"[{known[-1]}]") if form.node and not form.said("free") else (),
        )
        return None
    return set(free)
