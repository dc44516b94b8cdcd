"""The search for brew days against trying everything."""

from __future__ import annotations

from itertools import combinations, product

from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.planning.season_bounds import least_late, least_start
from sheetgen.planning.season_search import MOST_LOOKS, Answer, Choice, Slot, Taken, best_choice, listed
from sheetgen.planning.season_search import Wanted as Lazy
from sheetgen.records import record

Option = tuple[Slot, int] | None


@record
class Wanted:
    """A wish as the test has it: all its slots, and the vessels that it may take."""

    slots: tuple[Slot, ...]
    vessels: tuple[int, ...]


def best(wanted: list[Wanted], taken: Taken, most: int = MOST_LOOKS) -> Answer:
    return best_choice([listed(one.slots, one.vessels) for one in wanted], taken, most)


def possible(options: tuple[Option, ...], taken: Taken) -> bool:
    """Whether no vessel and no day of work is used twice: every pair, day by day."""
    chosen = [one for one in options if one]
    busy = [(vessel, day) for slot, vessel in chosen for day in range(slot.start, slot.end + 1)]
    busy += [(n, day) for n, spans in enumerate(taken.vessels) for a, b in spans for day in range(a, b + 1)]
    settled = sum(b - a + 1 for spans in taken.vessels for a, b in spans)
    if len({*busy}) < len(busy) and (len({*busy}) < len(busy) - settled or _overlap(chosen, taken)):
        return False
    if taken.days is None:
        return True
    work = [day for slot, _ in chosen for day in {slot.start, slot.filled}]
    return len({*work}) == len(work) and not {*work} & taken.days


def _overlap(chosen: list[tuple[Slot, int]], taken: Taken) -> bool:
    spans = [(vessel, slot.start, slot.end) for slot, vessel in chosen]
    fixed = [(n, a, b) for n, found in enumerate(taken.vessels) for a, b in found]
    pairs = [*combinations(spans, 2), *product(spans, fixed)]
    return any(one[0] == two[0] and one[1] <= two[2] and two[1] <= one[2] for one, two in pairs)


def worth(options: tuple[Option, ...]) -> tuple[int, int, int]:
    """Wishes without a day, days late, days of waiting."""
    chosen = [one for one in options if one]
    return (
        sum(one is None for one in options),
        sum(slot.late for slot, _ in chosen),
        sum(slot.start for slot, _ in chosen),
    )


def tried(wanted: list[Wanted], taken: Taken) -> tuple[int, int, int]:
    """The best there is, by trying everything."""
    each = [[None, *product(one.slots, one.vessels)] for one in wanted]
    return min(worth(options) for options in product(*each) if possible(options, taken))


def found(answer: Answer) -> tuple[Option, ...]:
    return tuple((one.slot, one.vessel) if one else None for one in answer.choices)


slots = st.builds(
    lambda start, filling, cleaning, late: Slot(start, start + filling, start + filling + cleaning, late),
    st.integers(0, 12),
    st.integers(1, 6),
    st.integers(0, 2),
    st.sampled_from([0, 0, 0, 1, 4]),
)


@st.composite
def wishes(draw: st.DrawFn) -> tuple[list[Wanted], Taken]:
    vessels = draw(st.integers(1, 3))
    spans = st.tuples(st.integers(0, 10), st.integers(0, 4)).map(lambda each: (each[0], each[0] + each[1]))
    busy = tuple(tuple(draw(st.lists(spans, max_size=1))) for _ in range(vessels))
    days = draw(st.none() | st.frozensets(st.integers(0, 14), max_size=3))
    some = st.lists(st.integers(0, vessels - 1), min_size=1, max_size=vessels, unique=True).map(sorted)
    wanted = [
        Wanted(
            tuple(
                sorted(draw(st.lists(slots, max_size=4, unique_by=lambda s: s.start)), key=lambda s: s.start)
            ),
            tuple(draw(some)),
        )
        for _ in range(draw(st.integers(1, 4)))
    ]
    return wanted, Taken(busy, days)


@settings(max_examples=250)
@given(wishes())
def test_nothing_better_exists(case: tuple[list[Wanted], Taken]):
    wanted, taken = case
    answer = best(wanted, taken)
    options = found(answer)
    assert answer.proven
    assert not _overlap([one for one in options if one], taken)
    assert possible(options, taken)
    assert worth(options) == tried(wanted, taken)


@settings(max_examples=150)
@given(wishes())
def test_the_bounds_are_never_above_what_can_be_done(case: tuple[list[Wanted], Taken]):
    """Whatever is possible begins no sooner, and is late by as many days at least."""
    wanted, taken = case
    each = [[*product(one.slots, one.vessels)] for one in wanted]
    ways = [options for options in product(*each) if possible(options, taken)]
    free = [
        next(day for day in range(40) if not any(a <= day <= b for a, b in spans)) for spans in taken.vessels
    ]
    for options in ways:
        slots = [slot for slot, _ in options]
        lengths = [listed(one.slots, one.vessels).shortest for one in wanted]
        earliest = [min(slot.start for slot in one.slots) for one in wanted]
        apart = 0 if taken.days is None else 1
        starts, total = least_start(earliest, lengths, free, apart)
        assert all(a <= b for a, b in zip(starts, sorted(slot.start for slot in slots), strict=True))
        assert total <= sum(slot.start for slot in slots)
        worries = [listed(one.slots, one.vessels).worry for one in wanted]
        assert least_late(starts, worries) <= sum(slot.late for slot in slots)


def test_a_day_is_worked_out_only_when_it_is_looked_at_and_once():
    asked: list[int] = []

    def slot(start: int) -> Slot:
        asked.append(start)
        return Slot(start, start + 9, start + 10)

    wanted = [Lazy(tuple(range(365)), slot, (0,), kind=n, shortest=11) for n in range(3)]
    answer = best_choice(wanted, Taken(((),), frozenset()))
    assert [one.slot.start for one in answer.choices if one] == [0, 11, 22]
    assert max(asked.count(day) for day in asked) <= 3
    assert len({*asked}) < 60


def test_a_search_that_ends_early_says_so_and_has_an_answer():
    many = [Wanted(tuple(Slot(day, day + 9, day + 10) for day in range(90)), (0, 1)) for _ in range(6)]
    many = [Wanted(one.slots[n:], one.vessels) for n, one in enumerate(many)]
    answer = best(many, Taken(((), ()), frozenset()), most=400)
    assert not answer.proven
    assert answer.looks == 400
    assert all(isinstance(one, Choice) for one in answer.choices)


def test_the_same_wishes_get_the_same_answer():
    wanted = [Wanted(tuple(Slot(day, day + 3, day + 4) for day in range(0, 60, 7)), (0, 1)) for _ in range(3)]
    answers = {best(wanted, Taken(((), ()), frozenset({7}))) for _ in range(3)}
    assert len(answers) == 1


def test_a_wish_waits_for_one_that_is_wanted_sooner():
    first = Wanted((Slot(0, 9, 10, late=0), Slot(14, 23, 24, late=0)), (0,))
    second = Wanted((Slot(0, 9, 10, late=0), Slot(14, 23, 24, late=9)), (0,))
    answer = best([first, second], Taken(((),), frozenset()))
    assert [one.slot.start for one in answer.choices if one] == [14, 0]
