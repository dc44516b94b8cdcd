"""The gate: may this drink be bottled yet? One pure function of readings and days.

In: corrected gravity readings (SG) with the day each was taken (whole days since pitching), the expected
range and the ceiling (SG), days on which something woke the yeast. Out: a verdict: a state, a reason, the
readings it rests on, and the earliest day of the next useful test. Nothing here knows dates, sentences or
bottles.

All comparisons are of whole ten-thousandths of SG. Every limit is inclusive, and the comment beside it says
which side passes; readings are rounded to the nearest ten-thousandth, `high` and `ceiling` down. The rules
are cautious judgement: common practice, no source.
"""

from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from .gravity import ten_thousandths
from .ranges import require
from .rounding import down_to

State = Literal["not-yet", "wait", "measure-again", "pass", "pass-with-care", "stuck"]
Reason = Literal[
    "no-counted-readings",
    "need-second",
    "still-falling",
    "came-back",
    "rose",
    "rose-a-little",
    "disagree",
    "above-ceiling",
    "between",
    "below-range",
    "steady-in-range",
    "finish-test",
    "pass-expired",
    "no-counted-looks",
    "need-second-look",
    "cloudy-or-sweet",
    "by-looks",
]

FIRST_COUNTED_DAY = 7
DAYS_AFTER_WAKING = 3
SAME = 5  # ten-thousandths: 0.0005 up or down is the same number
SLOW_FALL = 10  # 0.0010 lower still passes when the older reading is at least SLOW_FALL_DAYS older
SLOW_FALL_DAYS = 4
LARGEST_RISE = 10  # 0.0010 higher is not yet a case for measuring again, 0.0011 is
OUTLIER = 10  # a reading between may differ by 0.0010 from both, not by 0.0011
BETWEEN_READINGS = 3
BETWEEN_DAYS = 6
BELOW_RANGE = 30  # 0.0030 under the range is still in it, 0.0031 is below
BELOW_RANGE_DAYS = 7
FINISH_TEST_MARGIN = 10
CAUTION: tuple[State, ...] = ("pass", "pass-with-care", "not-yet", "wait", "measure-again", "stuck")
PASS_DAYS = 14  # the fourteenth day still holds


@dataclass(frozen=True, slots=True)
class Reading:
    """A gravity reading: `day` in whole days since pitching, `sg` already corrected for instrument and
    temperature.
    """

    day: int
    sg: float

    def __post_init__(self) -> None:
        require("day", self.day, 0, 10_000, "days")
        require("corrected reading", self.sg, 0.970, 1.180, "SG")

    @property
    def level(self) -> int:
        """The reading in whole ten-thousandths of SG."""
        return ten_thousandths(self.sg)


@dataclass(frozen=True, slots=True)
class Verdict:
    """What the gate says.

    `used` are the readings it rests on, oldest first; `counted` says of each reading given, in the order
    given, whether it counts; `next_day` is the earliest day of the next useful test, None after a pass;
    `pet_only` is true when nothing but PET bottles will do.
    """

    state: State
    reason: Reason
    used: tuple[Reading, ...] = ()
    counted: tuple[bool, ...] = ()
    next_day: int | None = None
    pet_only: bool = False


@dataclass(frozen=True, slots=True)
class _Case:
    """The evidence in whole numbers: counted readings, oldest first, and limits in ten-thousandths."""

    counted: tuple[Reading, ...]
    first_day: int
    low: int
    high: int
    ceiling: int
    plain_high: int
    plain_ceiling: int
    ferments_out: bool
    gap_days: int
    steadied_since: int | None

    @property
    def newest(self) -> Reading:
        return self.counted[-1]

    def partners_of(self, place: int) -> tuple[Reading, ...]:
        """The readings at least the gap older than the one at `place`, oldest first; the gap itself is
        enough.
        """
        latest = self.counted[place].day - self.gap_days
        return tuple(reading for reading in self.counted[:place] if reading.day <= latest)

    @property
    def partners(self) -> tuple[Reading, ...]:
        return self.partners_of(len(self.counted) - 1)

    @property
    def pair(self) -> tuple[Reading, Reading]:
        """The newest reading and the newest of its partners; asked only after `_need_second`."""
        return self.partners[-1], self.newest

    @property
    def between(self) -> tuple[Reading, ...]:
        return self.counted[len(self.partners) : -1]

    @property
    def rise_undone(self) -> tuple[Reading, ...]:
        """A reading, the higher one after it that the newest is held against, and the newest, which fell
        again: the one in the middle was no true one.
        """
        older = self.partners
        if len(older) < 2 or _rise(older[-2], older[-1]) <= LARGEST_RISE:
            return ()
        return (older[-2], *self.pair)

    @property
    def next_after_gap(self) -> int:
        return self.newest.day + self.gap_days


def _rise(older: Reading, newer: Reading) -> int:
    return newer.level - older.level


def steady(older: Reading, newer: Reading) -> bool:
    """Whether `newer` stands where `older` stood: within 0.0005, or lower by at most 0.0010 after 4 days or
    more.

    The gap between the two is not looked at here. Both limits pass. Range as `Reading`. Common practice, no
    source.
    """
    slow = newer.day - older.day >= SLOW_FALL_DAYS
    return -(SLOW_FALL if slow else SAME) <= _rise(older, newer) <= SAME


# The rules, in the order in which they are asked. Each answers, or leaves the case to the next.


def _none_counts(case: _Case) -> Verdict | None:
    return None if case.counted else Verdict("not-yet", "no-counted-readings", next_day=case.first_day)


def _three_falls(case: _Case) -> Verdict | None:
    last = case.counted[-3:]
    if len(last) < 3 or not last[0].level > last[1].level > last[2].level:
        return None
    return Verdict("wait", "still-falling", last, next_day=case.next_after_gap)


def _need_second(case: _Case) -> Verdict | None:
    if case.partners:
        return None
    return Verdict("wait", "need-second", (case.newest,), next_day=case.counted[0].day + case.gap_days)


def _rose(case: _Case) -> Verdict | None:
    rise = _rise(*case.pair)
    if rise <= SAME:
        return None
    if rise <= LARGEST_RISE:
        return Verdict("wait", "rose-a-little", case.pair, next_day=case.next_after_gap)
    return Verdict("measure-again", "rose", case.pair, next_day=case.newest.day)


def _fell(case: _Case) -> Verdict | None:
    if steady(*case.pair):
        return None
    used = case.rise_undone
    if used:
        reason: Reason = "came-back" if used[0].day < used[1].day else "disagree"
        return Verdict("wait", reason, used, next_day=case.next_after_gap)
    return Verdict("wait", "still-falling", case.pair, next_day=case.next_after_gap)


def _disagree(case: _Case) -> Verdict | None:
    older, newer = case.pair
    for reading in case.between:
        if min(abs(_rise(older, reading)), abs(_rise(newer, reading))) > OUTLIER:
            used = (older, reading, newer)
            return Verdict("measure-again", "disagree", used, next_day=case.next_after_gap)
    return None


def _above_ceiling(case: _Case) -> Verdict | None:
    if case.newest.level <= case.ceiling:  # at the ceiling is not above it
        return None
    if case.ferments_out:
        return Verdict("wait", "above-ceiling", case.pair, next_day=case.next_after_gap)
    return Verdict("stuck", "above-ceiling", case.pair, next_day=case.newest.day + DAYS_AFTER_WAKING)


def _flat(window: Sequence[Reading]) -> bool:
    levels = [reading.level for reading in window]
    return max(levels) - min(levels) <= SLOW_FALL and steady(window[0], window[-1])


def _flat_windows(case: _Case) -> list[tuple[Reading, ...]]:
    """Every stretch of readings up to the newest that is flat and lies in the time the drink was kept
    warm.
    """
    since = case.steadied_since
    if since is None:
        return []
    starts = [place for place, reading in enumerate(case.counted) if reading.day >= since]
    return [case.counted[place:] for place in starts if _flat(case.counted[place:])]


def _between(case: _Case) -> Verdict | None:
    if case.newest.level <= case.high:  # at the top of the range is in it
        return None
    windows = _flat_windows(case)
    for window in windows:
        if len(window) >= BETWEEN_READINGS and window[-1].day - window[0].day >= BETWEEN_DAYS:
            return Verdict("pass-with-care", "between", window)
    if not windows:
        return Verdict("wait", "between", case.pair, next_day=case.newest.day + DAYS_AFTER_WAKING)
    sixth_day = windows[0][0].day + BETWEEN_DAYS
    return Verdict("wait", "between", case.pair, next_day=max(sixth_day, case.next_after_gap))


def _below(case: _Case, reading: Reading) -> bool:
    return reading.level < case.low - BELOW_RANGE


def _found_below(case: _Case, place: int) -> bool:
    """Whether the reading at `place` was below the range and steady then, and the newest has not moved
    from it.
    """
    reading, partners = case.counted[place], case.partners_of(place)
    return bool(
        partners and _below(case, reading) and steady(partners[-1], reading) and steady(reading, case.newest)
    )


def _below_range(case: _Case) -> Verdict | None:
    if not _below(case, case.newest):
        return None
    found = next(r for place, r in enumerate(case.counted) if _found_below(case, place))
    if case.newest.day - found.day >= BELOW_RANGE_DAYS:
        return Verdict("pass-with-care", "below-range", (found, case.newest), pet_only=True)
    return Verdict("wait", "below-range", case.pair, next_day=found.day + BELOW_RANGE_DAYS)


def _in_range(case: _Case) -> Verdict | None:
    if case.newest.level > case.plain_high:
        high_up = case.newest.level > case.plain_ceiling  # at the ceiling glass may still be filled
        return Verdict("pass-with-care", "finish-test", case.pair, pet_only=high_up)
    return Verdict("pass", "steady-in-range", case.pair)


RULES: tuple[Callable[[_Case], Verdict | None], ...] = (
    _none_counts,
    _three_falls,
    _need_second,
    _rose,
    _fell,
    _disagree,
    _above_ceiling,
    _between,
    _below_range,
    _in_range,
)


def first_counted_day(woken_days: Collection[int] = ()) -> int:
    """The first day (since pitching) on which a reading counts: day 7, and 3 days after the last waking.

    `woken_days` are days on which sugar, fruit, honey, nutrient, dry hops or fresh yeast went in, the yeast
    was roused, or the drink was warmed by 2 C or more. Both limits count. Range: days from 0. Common
    practice, no source.
    """
    return max([FIRST_COUNTED_DAY, *(day + DAYS_AFTER_WAKING for day in woken_days)])


def _whole_below(sg: float) -> int:
    return ten_thousandths(down_to(sg, 0.0001))


def _case(
    counted: tuple[Reading, ...],
    first_day: int,
    limits: tuple[float, float, float],
    gap_days: int,
    steadied_since: int | None,
    finish_test_sg: float | None,
) -> _Case:
    low, high, ceiling = ten_thousandths(limits[0]), _whole_below(limits[1]), _whole_below(limits[2])
    if not low <= high:
        raise ValueError(f"low {limits[0]:g} is outside what is at most high {limits[1]:g} SG")
    plain_high = min(high, ceiling)
    ferments_out = high >= ceiling
    usable_high, usable_ceiling = plain_high, ceiling
    if finish_test_sg is not None and not ferments_out:
        usable_high = ten_thousandths(require("finish test", finish_test_sg, 0.970, 1.180, "SG"))
        usable_ceiling = usable_high + FINISH_TEST_MARGIN
    return _Case(
        counted,
        first_day,
        low,
        usable_high,
        usable_ceiling,
        plain_high,
        ceiling,
        ferments_out,
        gap_days,
        steadied_since,
    )


def _dated(verdict: Verdict, case: _Case, today_day: int | None) -> Verdict:
    """The verdict as of today: a pass is good for 14 days, and no next test lies in the past."""
    if today_day is None:
        return verdict
    if verdict.next_day is not None:
        return replace(verdict, next_day=max(verdict.next_day, today_day))
    if today_day - case.newest.day <= PASS_DAYS:
        return verdict
    return Verdict("wait", "pass-expired", verdict.used, next_day=today_day, pet_only=verdict.pet_only)


def _orders(counted: Sequence[Reading]) -> list[tuple[Reading, ...]]:
    """The readings by day; where a day has several, in the two orders that matter: the greatest fall to the
    newest (highest last, and on the newest day the lowest), and the greatest rise.
    """
    newest = max((reading.day for reading in counted), default=0)
    falling = sorted(counted, key=lambda r: (r.day, -r.level if r.day == newest else r.level))
    rising = sorted(counted, key=lambda r: (r.day, r.level if r.day == newest else -r.level))
    return [tuple(falling)] if falling == rising else [tuple(falling), tuple(rising)]


def _caution(verdict: Verdict) -> tuple[int, int]:
    """How far a verdict is from a pass, then how late it asks again."""
    return CAUTION.index(verdict.state), verdict.next_day or 0


def judge(
    readings: Iterable[Reading],
    low: float,
    high: float,
    ceiling: float,
    gap_days: int,
    woken_days: Collection[int] = (),
    steadied_since: int | None = None,
    finish_test_sg: float | None = None,
    today_day: int | None = None,
) -> Verdict:
    """Whether to bottle, from corrected `readings` (SG by day since pitching) and the limits (SG).

    `low` and `high` are the expected range, `ceiling` the limit; when high is not under the ceiling (a
    drink that ferments out) nothing is passed with care for being high, and above it the answer is "wait".
    `gap_days` (days, 2 to 60) is the least distance of two readings that are compared. `woken_days`: see
    `first_counted_day`. `steadied_since` is the day from which the drink has stood at 20 C or more, None if
    it has not: without it a reading between high and ceiling only waits. `finish_test_sg` is where a sample
    with fresh yeast in the warm ended: it becomes the high, plus 0.001 the ceiling, with care. `today_day`
    lets a pass lapse after 14 days. Readings of one day have no order: it passes only if it would pass with
    the lowest and with the highest of them as the last. Range as `Reading`. Source: cautious judgement,
    common practice.
    """
    require("gap", gap_days, 2, 60, "days")
    given = tuple(readings)
    first_day = first_counted_day(woken_days)
    flags = tuple(reading.day >= first_day for reading in given)
    verdicts = []
    for counted in _orders([reading for reading in given if reading.day >= first_day]):
        case = _case(counted, first_day, (low, high, ceiling), gap_days, steadied_since, finish_test_sg)
        verdict = next(answer for rule in RULES if (answer := rule(case)) is not None)
        verdicts.append(_dated(verdict, case, today_day))
    return replace(max(verdicts, key=_caution), counted=flags)
