"""The gate's table: readings in, state out, written from the rules; then every limit walked a step each way.

Unless a row says otherwise: expected range 1.009 to 1.015, ceiling 1.017, two days between compared readings.
Gravities are written as thousandths above 1.000.
"""

from collections.abc import Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetgen.brewing.gate import Reading, Verdict, first_counted_day, judge, steady
from sheetgen.brewing.looks import Look, judge_by_looks
from sheetgen.brewing.readings_ahead import fewest_more


def readings(text: str) -> list[Reading]:
    """'8 12.0, 10 12.0' are readings of 1.0120 on days 8 and 10."""
    pairs = (item.split() for item in text.split(",") if item.strip())
    return [Reading(int(day), 1 + float(points) / 1000) for day, points in pairs]


def judged(text: str, **changes: object) -> Verdict:
    usual: dict[str, object] = {"low": 1.009, "high": 1.015, "ceiling": 1.017, "gap_days": 2}
    return judge(readings(text), **{**usual, **changes})  # type: ignore[arg-type]


CIDER = {"low": 0.988, "high": 1.0, "ceiling": 1.0}
MEAD = {"low": 0.985, "high": 1.0, "ceiling": 1.0, "gap_days": 7}
WARM = {"steadied_since": 0}

# Each row: the readings, what differs from the usual limits, the state, the reason.
TABLE = [
    ("", {}, "not-yet", "no-counted-readings"),
    ("3 20, 5 14", {}, "not-yet", "no-counted-readings"),
    ("4 12, 6 12", {}, "not-yet", "no-counted-readings"),  # equal, but before day 7
    ("6 12, 8 12", {}, "wait", "need-second"),  # the first one is too early
    ("7 12", {}, "wait", "need-second"),
    ("7 12, 8 12", {}, "wait", "need-second"),  # one day apart
    ("7 12, 9 12", {}, "pass", "steady-in-range"),
    ("10 12, 13 12", {}, "pass", "steady-in-range"),
    ("10 12, 40 12", {}, "pass", "steady-in-range"),  # no upper limit to the gap
    ("9 12, 7 12", {}, "pass", "steady-in-range"),  # order of writing does not matter
    ("7 12, 8 12, 9 12", {}, "pass", "steady-in-range"),  # the third gives the first its distance
    ("7 12, 9 12", {"gap_days": 3}, "wait", "need-second"),
    ("7 12, 10 12", {"gap_days": 3}, "pass", "steady-in-range"),
    ("7 12, 10 12", {"gap_days": 4}, "wait", "need-second"),
    ("7 12, 11 12", {"gap_days": 4}, "pass", "steady-in-range"),
    ("7 12, 20 12", {"gap_days": 14}, "wait", "need-second"),  # a skin was seen
    ("7 12, 21 12", {"gap_days": 14}, "pass", "steady-in-range"),
    ("7 13, 9 12", {}, "wait", "still-falling"),  # down by 1 in two days
    ("7 13, 10 12", {}, "wait", "still-falling"),
    ("7 13, 11 12", {}, "pass", "steady-in-range"),  # down by 1 in four days
    ("7 13.5, 9 13", {}, "pass", "steady-in-range"),  # half a point is the same number
    ("7 13.6, 9 13", {}, "wait", "still-falling"),
    ("7 13.1, 15 12", {}, "wait", "still-falling"),  # more than 1, however long
    ("7 30, 9 20", {}, "wait", "still-falling"),
    ("7 14, 9 13, 11 12", {}, "wait", "still-falling"),
    ("7 14, 9 13, 11 12, 13 11", {}, "wait", "still-falling"),
    ("7 12.3, 11 12.2, 15 12.1", {}, "wait", "still-falling"),  # three in a row, each lower
    ("7 13, 9 12, 11 12", {}, "pass", "steady-in-range"),  # it fell, and then it stood
    ("7 14, 9 13, 11 12, 13 12", {}, "pass", "steady-in-range"),
    ("6 14, 7 13, 9 13", {}, "pass", "steady-in-range"),  # an uncounted one makes no third
    ("7 12, 9 13.1", {}, "measure-again", "rose"),
    ("7 12, 9 14", {}, "measure-again", "rose"),
    ("7 12, 9 13", {}, "wait", "rose-a-little"),
    ("7 12, 9 12.6", {}, "wait", "rose-a-little"),
    ("7 12, 9 12.5", {}, "pass", "steady-in-range"),
    ("7 12, 8 14, 9 12", {}, "measure-again", "disagree"),
    ("7 12, 8 10.5, 9 12", {}, "measure-again", "disagree"),
    ("7 12, 8 13, 9 12", {}, "pass", "steady-in-range"),  # exactly 1 away is not an outlier
    ("7 12, 9 14, 11 12", {}, "wait", "came-back"),  # compared with the newest old enough
    ("7 12, 9 13, 11 12", {}, "wait", "still-falling"),  # a rise of 1 is noise
    ("7 14, 9 16, 11 12", {}, "wait", "came-back"),
    ("7 12, 8 14, 9 14, 11 12", {}, "wait", "still-falling"),  # twice is no slip
    ("7 12, 9 14, 11 12, 13 12", {}, "pass", "steady-in-range"),
    ("7 12, 9 12, 9 11", {}, "wait", "still-falling"),  # two of one day: the lower one fell,
    ("7 12, 9 11, 9 12", {}, "wait", "still-falling"),  # whatever their order
    ("7 12, 7 11, 9 11", {}, "wait", "still-falling"),
    ("7 12, 9 12, 9 14", {}, "measure-again", "disagree"),
    ("7 12, 9 14, 9 12", {}, "measure-again", "disagree"),
    ("7 12, 7 12, 9 12, 9 12", {}, "pass", "steady-in-range"),
    ("7 17.4, 9 17.4, 9 16.9", {}, "stuck", "above-ceiling"),
    ("7 12, 9 14, 11 12, 13 12", {}, "pass", "steady-in-range"),
    ("7 15, 9 15", {}, "pass", "steady-in-range"),  # the top of the range is in it
    ("7 15.1, 9 15.1", {}, "wait", "between"),
    ("7 17, 9 17", {}, "wait", "between"),  # the ceiling is not above itself
    ("7 17.1, 9 17.1", {}, "stuck", "above-ceiling"),
    ("7 22, 9 22", {}, "stuck", "above-ceiling"),
    ("7 23, 9 20", {}, "wait", "still-falling"),  # high, but moving: not stuck
    ("7 16, 10 16, 13 16", WARM, "pass-with-care", "between"),
    ("7 16, 10 16, 13 16", {}, "wait", "between"),  # never warmed
    ("7 16, 13 16", WARM, "wait", "between"),  # only two
    ("7 16, 9 16, 12 16", WARM, "wait", "between"),  # five days
    ("7 16.8, 10 16.4, 13 16.4", WARM, "pass-with-care", "between"),
    ("7 18, 10 16, 13 16", WARM, "wait", "between"),  # the first is not at the same number
    ("7 16, 10 16, 13 16", {"steadied_since": 8}, "wait", "between"),
    ("7 16, 10 16, 13 16, 16 16", {"steadied_since": 8}, "pass-with-care", "between"),
    ("7 16, 10 16, 13 16", {"steadied_since": 7}, "pass-with-care", "between"),
    ("7 16, 9 17.1, 12 16, 14 16", WARM, "wait", "between"),  # the readings between count for flatness
    ("7 16, 9 17, 12 16, 14 16", WARM, "pass-with-care", "between"),
    ("7 16, 9 16.6, 12 16.6, 14 16.6", WARM, "wait", "between"),  # higher than at the start
    ("7 16, 10 16.4, 12 16.4, 14 16.6", WARM, "wait", "between"),
    ("7 13, 8 13, 9 12.6", {}, "pass", "steady-in-range"),  # one fall is not three readings falling
    ("7 13, 8 12.6, 9 12.6", {}, "pass", "steady-in-range"),
    ("7 6, 9 6", {}, "pass", "steady-in-range"),  # 3 under the range is in it still
    ("7 5.9, 9 5.9", {}, "wait", "below-range"),
    ("7 5, 9 5, 15 5", {}, "wait", "below-range"),  # six days after it was found
    ("7 5, 9 5, 16 5", {}, "pass-with-care", "below-range"),
    ("7 5, 14 5", {}, "wait", "below-range"),  # found on day 14, not before
    ("7 5, 9 5, 16 3", {}, "wait", "still-falling"),
    ("7 8, 9 5, 11 5, 18 5", {}, "pass-with-care", "below-range"),
    ("7 8, 9 5, 11 5, 17 5", {}, "wait", "below-range"),
    ("7 6, 9 5.8, 16 5.8", {}, "pass-with-care", "below-range"),  # found with a partner that was in the range
    ("7 4, 9 4, 12 5, 19 5", {}, "wait", "below-range"),  # it has moved since it was found
    ("7 12, 9 12", {"woken_days": [3]}, "pass", "steady-in-range"),
    ("7 12, 9 12", {"woken_days": [5]}, "wait", "need-second"),
    ("8 12, 10 12", {"woken_days": [5]}, "pass", "steady-in-range"),
    ("8 12, 10 12", {"woken_days": [1, 11]}, "not-yet", "no-counted-readings"),  # sugar after the pass
    ("8 12, 10 12, 14 12", {"woken_days": [11]}, "wait", "need-second"),
    ("8 12, 10 12, 14 12, 16 12", {"woken_days": [11]}, "pass", "steady-in-range"),
    ("7 12, 9 12", {"today_day": 23}, "pass", "steady-in-range"),
    ("7 12, 9 12", {"today_day": 24}, "wait", "pass-expired"),
    ("7 12, 9 12, 24 12", {"today_day": 24}, "pass", "steady-in-range"),  # one more reading
    ("7 5, 9 5, 16 5", {"today_day": 31}, "wait", "pass-expired"),
    ("7 22, 9 22", {"finish_test_sg": 1.022}, "pass-with-care", "finish-test"),
    ("7 22.5, 9 22.5", {"finish_test_sg": 1.022}, "wait", "between"),
    ("7 22.5, 10 22.5, 13 22.5", {"finish_test_sg": 1.022, **WARM}, "pass-with-care", "between"),
    ("7 23.1, 9 23.1", {"finish_test_sg": 1.022}, "stuck", "above-ceiling"),  # it fell further
    ("7 14, 9 14", {"finish_test_sg": 1.012}, "stuck", "above-ceiling"),
    ("7 12, 9 12", {"finish_test_sg": 1.012}, "pass", "steady-in-range"),
    ("7 -4, 9 -4", CIDER, "pass", "steady-in-range"),
    ("7 -10, 9 -10", CIDER, "pass", "steady-in-range"),
    ("7 0, 9 0", CIDER, "pass", "steady-in-range"),
    ("7 0.1, 9 0.1", CIDER, "wait", "above-ceiling"),
    ("7 4, 10 4, 13 4", {**CIDER, **WARM}, "wait", "above-ceiling"),  # never with care
    ("7 4, 9 4", {**CIDER, "finish_test_sg": 1.004}, "wait", "above-ceiling"),
    ("7 -16, 9 -16", CIDER, "wait", "below-range"),
    ("30 -10, 34 -10", MEAD, "wait", "need-second"),
    ("30 -10, 37 -10", MEAD, "pass", "steady-in-range"),
    ("30 -18, 37 -18", MEAD, "pass", "steady-in-range"),
    ("30 -3, 57 -3", {**CIDER, "high": 0.998, "ceiling": 0.998, "gap_days": 28}, "wait", "need-second"),
    ("30 -3, 58 -3", {**CIDER, "high": 0.998, "ceiling": 0.998, "gap_days": 28}, "pass", "steady-in-range"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "changes", "state", "reason"), TABLE)
def test_table(text: str, changes: dict[str, object], state: str, reason: str) -> None:
    verdict = judged(text, **changes)
    assert (verdict.state, verdict.reason) == (state, reason)


def walk(limit_points: float, template: str) -> list[str]:
    """The states one step of 0.0001 below, on and above a limit of so many points above 1.000."""
    return [judged(template.format(limit_points + step / 10)).state for step in (-1, 0, 1)]


def test_top_of_range_walked() -> None:
    assert walk(15.0, "7 {0:.1f}, 9 {0:.1f}") == ["pass", "pass", "wait"]


def test_ceiling_walked() -> None:
    assert walk(17.0, "7 {0:.1f}, 9 {0:.1f}") == ["wait", "wait", "stuck"]


def test_below_range_walked() -> None:
    assert walk(6.0, "7 {0:.1f}, 9 {0:.1f}") == ["wait", "pass", "pass"]


def test_same_number_downwards_walked() -> None:
    assert walk(12.5, "7 {0:.1f}, 9 12.0") == ["pass", "pass", "wait"]


def test_same_number_upwards_walked() -> None:
    assert walk(12.5, "7 12.0, 9 {0:.1f}") == ["pass", "pass", "wait"]


def test_slow_fall_walked() -> None:
    assert walk(13.0, "7 {0:.1f}, 11 12.0") == ["pass", "pass", "wait"]


def test_rise_walked() -> None:
    assert walk(13.0, "7 12.0, 9 {0:.1f}") == ["wait", "wait", "measure-again"]


def test_outlier_walked_above() -> None:
    assert walk(13.0, "7 12.0, 8 {0:.1f}, 9 12.0") == ["pass", "pass", "measure-again"]


def test_outlier_walked_below() -> None:
    assert walk(11.0, "7 12.0, 8 {0:.1f}, 9 12.0") == ["measure-again", "pass", "pass"]


def test_finish_test_ceiling_walked() -> None:
    states = [
        judged(f"7 {p}, 9 {p}", finish_test_sg=1.022).state for p in (21.9, 22.0, 22.1, 22.9, 23.0, 23.1)
    ]
    assert states == ["pass-with-care", "pass-with-care", "wait", "wait", "wait", "stuck"]


def test_cider_walked() -> None:
    states = [judged(f"7 {p}, 9 {p}", **CIDER).state for p in (-15.1, -15.0, -14.9, -0.1, 0.0, 0.1)]
    assert states == ["wait", "pass", "pass", "pass", "pass", "wait"]


def test_slow_fall_days_walked() -> None:
    assert [judged(f"7 13, {day} 12").state for day in (10, 11, 12)] == ["wait", "pass", "pass"]


def test_first_day_walked() -> None:
    assert [judged(f"{day} 12, 12 12").state for day in (6, 7, 8)] == ["wait", "pass", "pass"]


def test_gap_walked() -> None:
    assert [judged(f"7 12, {day} 12", gap_days=4).state for day in (10, 11, 12)] == ["wait", "pass", "pass"]


def test_days_after_waking_walked() -> None:
    assert [judged("9 12, 12 12", woken_days=[day]).state for day in (5, 6, 7)] == ["pass", "pass", "wait"]


def test_between_days_walked() -> None:
    states = [judged(f"7 16, 10 16, {day} 16", **WARM).state for day in (12, 13, 14)]
    assert states == ["wait", "pass-with-care", "pass-with-care"]


def test_below_range_days_walked() -> None:
    states = [judged(f"7 5, 9 5, {day} 5").state for day in (15, 16, 17)]
    assert states == ["wait", "pass-with-care", "pass-with-care"]


def test_pass_days_walked() -> None:
    assert [judged("7 12, 9 12", today_day=day).state for day in (22, 23, 24)] == ["pass", "pass", "wait"]


def test_no_float_decides() -> None:
    """A fall of exactly 0.0010 over four days passes, one of 0.0011 never does, at every gravity."""
    for older in range(9800, 11200):
        first, same, more = (Reading(7 if n == 0 else 11, (older - n) / 10000) for n in (0, 10, 11))
        assert steady(first, same), older
        assert not steady(first, more), older
        assert same.level == older - 10


def test_limits_between_steps_round_to_the_safe_side() -> None:
    assert judged("7 15.4, 9 15.4", high=1.01536).state == "wait"
    assert judged("7 15.3, 9 15.3", high=1.01536).state == "pass"
    assert judged("7 17.1, 9 17.1", ceiling=1.01706).state == "stuck"


def test_ceiling_below_high_holds() -> None:
    assert judged("7 3.1, 9 3.1", low=1.001, high=1.0032, ceiling=1.003).state == "wait"
    assert judged("7 3.0, 9 3.0", low=1.001, high=1.0032, ceiling=1.003).state == "pass"


def test_a_slow_beer_does_not_pass_on_day_nine() -> None:
    """1.014, 1.013, 1.012, 1.011 on days 7, 9, 11, 13 is still working at every step."""
    days = ["7 14", "9 13", "11 12", "13 11"]
    assert [judged(", ".join(days[: n + 1])).state for n in range(4)] == ["wait"] * 4


NEXT = [
    ("", {}, 7),
    ("", {"woken_days": [6]}, 9),
    ("7 12", {}, 9),
    ("7 12, 8 12", {"gap_days": 4}, 11),
    ("7 13, 9 12", {}, 11),
    ("7 12, 9 14", {}, 9),  # measure again at once
    ("7 12, 8 14, 9 12", {}, 11),
    ("7 22, 9 22", {}, 12),
    ("7 16, 9 16", WARM, 13),
    ("7 16, 9 16", {}, 12),  # warmed today, it counts from the third day
    ("7 5, 9 5", {}, 16),
    ("7 12, 9 12", {}, None),
    ("7 12, 9 12", {"today_day": 30}, 30),
    ("7 12", {"today_day": 12}, 12),  # never in the past
]


@pytest.mark.parametrize(("text", "changes", "day"), NEXT)
def test_next_day(text: str, changes: dict[str, object], day: int | None) -> None:
    assert judged(text, **changes).next_day == day


def test_used_and_counted() -> None:
    verdict = judged("6 20, 10 12, 7 12.1, 9 12.2")
    assert verdict.counted == (False, True, True, True)
    assert [reading.day for reading in verdict.used] == [7, 10]


def test_two_readings_of_a_day_have_no_order_and_the_worse_one_is_believed() -> None:
    assert judged("8 12, 10 14, 10 12").state == "measure-again"
    assert judged("8 12, 10 14, 10 12, 12 12").state == "wait"
    assert judged("8 12, 10 14, 10 12, 12 12, 14 12").state == "pass"


@given(st.lists(st.tuples(st.integers(7, 12), st.integers(10, 16)), min_size=1, max_size=6), st.data())
def test_the_order_in_which_readings_are_written_changes_nothing(
    rows: list[tuple[int, int]], data: st.DataObject
) -> None:
    def written(each: list[tuple[int, int]]) -> Verdict:
        return judged(", ".join(f"{day} {level}" for day, level in each), **WARM)

    one, other = written(rows), written(data.draw(st.permutations(rows)))
    assert (one.state, one.reason, one.next_day) == (other.state, other.reason, other.next_day)


@given(
    st.lists(st.tuples(st.integers(7, 12), st.integers(10, 16)), min_size=1, max_size=4), st.integers(10, 16)
)
def test_a_second_reading_of_a_day_never_makes_a_pass(rows: list[tuple[int, int]], again: int) -> None:
    def state(each: list[tuple[int, int]]) -> str:
        return judged(", ".join(f"{day} {level}" for day, level in each)).state

    newest = max(rows)[0]
    if sum(day == newest for day, _level in rows) == 1 and state(rows) != "pass":
        assert state([*rows, (newest, again)]) != "pass"


def test_only_below_the_range_is_pet_only() -> None:
    assert judged("7 5, 9 5, 16 5").pet_only
    assert not judged("7 16, 10 16, 13 16", **WARM).pet_only


def test_first_counted_day() -> None:
    assert [first_counted_day(days) for days in ([], [2], [4], [5], [5, 20])] == [7, 7, 7, 8, 23]


def test_ranges() -> None:
    for changes in ({"gap_days": 1}, {"gap_days": 61}, {"finish_test_sg": 0.969}, {"finish_test_sg": 1.181}):
        with pytest.raises(ValueError, match="outside"):
            judged("7 12, 9 12", **changes)
    for day, sg in ((-1, 1.010), (10_001, 1.010), (7, 0.969), (7, 1.181), (7, float("nan"))):
        with pytest.raises(ValueError, match="outside"):
            Reading(day, sg)


def test_ends_of_ranges() -> None:
    assert [Reading(day, sg).level for day, sg in ((0, 0.970), (10_000, 1.180))] == [9700, 11800]
    assert judged("7 12, 67 12", gap_days=60).state == "pass"
    assert judged("7 12, 9 12", low=1.015).reason == "steady-in-range"
    assert judged("7 12, 9 12", finish_test_sg=0.970).state == "stuck"
    assert judged("7 12, 9 12", finish_test_sg=1.180).state == "pass"


def test_low_above_high() -> None:
    with pytest.raises(ValueError, match=r"low 1\.016 is outside what is at most high 1\.015 SG"):
        judged("7 12, 9 12", low=1.016)


# What must always hold.

some_readings = st.lists(
    st.builds(lambda day, level: Reading(day, level / 10000), st.integers(5, 40), st.integers(10080, 10180)),
    max_size=6,
)
near_readings = st.lists(
    st.builds(lambda day, level: Reading(day, level / 10000), st.integers(5, 40), st.integers(10138, 10160)),
    min_size=2,
    max_size=6,
)
gaps = st.sampled_from([2, 3, 4, 7, 14])


def passes(verdict: Verdict) -> bool:
    return verdict.state in ("pass", "pass-with-care")


@given(some_readings | near_readings, gaps)
def test_what_every_pass_means(given_readings: list[Reading], gap: int) -> None:
    verdict = judge(given_readings, 1.009, 1.015, 1.017, gap)
    if verdict.state != "pass":
        return
    older, newer = verdict.used
    assert newer.level <= 10150
    assert older.day >= 7
    assert newer.day == max(reading.day for reading in given_readings)
    assert newer.day - older.day >= gap
    assert -10 <= newer.level - older.level <= 5
    assert newer.level - older.level >= -5 or newer.day - older.day >= 4


@given(st.integers(10000, 10170), st.integers(6, 100), st.integers(2, 60), gaps)
def test_a_rise_never_passes(level: int, rise: int, days: int, gap: int) -> None:
    pair = [Reading(7, level / 10000), Reading(7 + days, (level + rise) / 10000)]
    assert not passes(judge(pair, 0.990, 1.020, 1.022, gap, steadied_since=0))


@given(some_readings | near_readings, gaps, st.integers(0, 30))
def test_a_lower_ceiling_never_lets_through(given_readings: list[Reading], gap: int, less: int) -> None:
    loose = judge(given_readings, 1.009, 1.015, 1.017, gap, steadied_since=0)
    tight = judge(given_readings, 1.009, 1.015, (10170 - less) / 10000, gap, steadied_since=0)
    assert passes(loose) or not passes(tight)


@given(some_readings | near_readings, gaps, st.integers(0, 40))
def test_waking_the_yeast_after_the_last_reading_takes_every_pass_back(
    given_readings: list[Reading], gap: int, later: int
) -> None:
    woken = max((reading.day for reading in given_readings), default=0) + later
    verdict = judge(given_readings, 1.009, 1.015, 1.017, gap, woken_days=[woken], steadied_since=0)
    assert verdict.state == "not-yet"


@given(some_readings | near_readings, gaps)
def test_order_of_writing_does_not_matter(given_readings: list[Reading], gap: int) -> None:
    by_day = list({reading.day: reading for reading in given_readings}.values())
    one = judge(by_day, 1.009, 1.015, 1.017, gap)
    other = judge(by_day[::-1], 1.009, 1.015, 1.017, gap)
    assert (one.state, one.used, one.next_day) == (other.state, other.used, other.next_day)


@given(some_readings | near_readings, gaps, st.integers(-150, 150))
def test_only_differences_matter(given_readings: list[Reading], gap: int, shift: int) -> None:
    moved = [Reading(reading.day, (reading.level + shift) / 10000) for reading in given_readings]
    limits = [(limit + shift) / 10000 for limit in (10090, 10150, 10170)]
    one = judge(given_readings, 1.009, 1.015, 1.017, gap, steadied_since=0)
    other = judge(moved, *limits, gap, steadied_since=0)
    assert (one.state, one.reason, one.next_day) == (other.state, other.reason, other.next_day)


@given(some_readings, gaps)
def test_with_every_verdict_but_a_pass_comes_a_day(given_readings: list[Reading], gap: int) -> None:
    verdict = judge(given_readings, 1.009, 1.015, 1.017, gap, steadied_since=0)
    last = max((reading.day for reading in given_readings), default=0)
    assert (verdict.next_day is None) == passes(verdict)
    assert passes(verdict) or verdict.next_day is None or verdict.next_day >= min(last, 7)


@given(some_readings | near_readings, gaps, st.integers(10090, 10150))
def test_waiting_long_enough_with_equal_readings_ends_every_wait(
    given_readings: list[Reading], gap: int, level: int
) -> None:
    end = max((reading.day for reading in given_readings), default=7) + 1
    more = [Reading(end + gap * n, level / 10000) for n in (1, 2)]
    assert judge([*given_readings, *more], 1.009, 1.015, 1.017, gap).state == "pass"


LOOKS = [
    ([], [], "not-yet", "no-counted-looks", 21),
    ([(14, True, False), (20, True, False)], [], "not-yet", "no-counted-looks", 21),
    ([(21, True, False)], [], "wait", "need-second-look", 24),
    ([(21, True, False), (23, True, False)], [], "wait", "need-second-look", 24),
    ([(21, True, False), (24, True, False)], [], "pass-with-care", "by-looks", None),
    ([(21, False, False), (24, True, False)], [], "wait", "need-second-look", 27),
    ([(21, True, False), (24, True, True)], [], "wait", "cloudy-or-sweet", 27),
    ([(21, True, False), (22, True, True), (24, True, False)], [], "wait", "need-second-look", 27),
    ([(21, True, False), (24, True, False)], [5], "not-yet", "no-counted-looks", 26),
    ([(26, True, False), (29, True, False)], [5], "pass-with-care", "by-looks", None),
]


@pytest.mark.parametrize(("looks", "woken", "state", "reason", "day"), LOOKS)
def test_without_hydrometer(
    looks: list[tuple[int, bool, bool]], woken: list[int], state: str, reason: str, day: int | None
) -> None:
    verdict = judge_by_looks([Look(*look) for look in looks], woken)
    assert (verdict.state, verdict.reason, verdict.next_day) == (state, reason, day)
    assert verdict.pet_only


# How many more readings it takes at the least


def more(text: str, *levels: float) -> int | None:
    """The fewest further readings at one of the levels (thousandths), on the usual limits."""

    def ask(further: Sequence[Reading]) -> Verdict:
        return judge([*readings(text), *further], 1.009, 1.015, 1.017, 2)

    return fewest_more(ask, [1 + level / 1000 for level in levels])


@pytest.mark.parametrize(
    ("text", "levels", "number"),
    [
        ("11 12, 14 12", (12,), 0),  # it has passed
        ("11 12", (12,), 1),
        ("11 16, 14 13", (13,), 1),
        ("11 23, 14 23", (23, 15), 2),  # stuck: a fall first, and then the same once more
        ("11 11, 14 16", (11, 16), 3),  # a rise: nothing that is read next agrees with both
        ("", (12,), 2),
        ("11 23, 14 23", (23,), None),
    ],
)
def test_the_fewest_readings_that_could_pass(
    text: str, levels: tuple[float, ...], number: int | None
) -> None:
    assert more(text, *levels) == number
