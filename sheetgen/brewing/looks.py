"""The weaker gate, for a brewer without a hydrometer: a look and a taste, twice.

In: looks by day (whole days since pitching), days on which something woke the yeast. Out: the gate's own
verdict, at best "pass-with-care" and for PET bottles only. Cautious judgement: common practice, no source.
"""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace

from .gate import PASS_DAYS, Verdict

LOOKS_FIRST_DAY = 21
LOOKS_APART_DAYS = 3


@dataclass(frozen=True, slots=True)
class Look:
    """A look and a taste without a hydrometer, on `day` since pitching: was it clear, was it sweet?"""

    day: int
    clear: bool
    sweet: bool


def judge_by_looks(
    looks: Iterable[Look], woken_days: Collection[int] = (), today_day: int | None = None
) -> Verdict:
    """The weaker way, for a brewer without hydrometer: clear and not sweet, twice, 3 days apart, from day
    21 on.

    The 21 days start again with every waking (see `first_counted_day`). With `today_day` a pass lapses
    after 14 days, and no next look lies in the past. Of several looks of one day the worst counts. At best
    "pass-with-care" and PET only. The caller keeps the other conditions: original gravity up to 1.055, room
    from 18 C, target up to 2.2 volumes. Range: days since pitching from 0. Common practice, no source.
    """
    given = tuple(looks)
    first_day = LOOKS_FIRST_DAY + max(woken_days, default=0)
    flags = tuple(look.day >= first_day for look in given)
    counted = sorted((look for look in given if look.day >= first_day), key=_order)
    verdict = _dated(_looked(counted, first_day), counted, today_day)
    return replace(verdict, counted=flags, pet_only=True)


def _order(look: Look) -> tuple[int, bool]:
    """By day; of two looks of one day the worse one is the last word."""
    return look.day, look.sweet or not look.clear


def _dated(verdict: Verdict, counted: Sequence[Look], today_day: int | None) -> Verdict:
    if today_day is None:
        return verdict
    if verdict.next_day is not None:
        return replace(verdict, next_day=max(verdict.next_day, today_day))
    if today_day - counted[-1].day <= PASS_DAYS:
        return verdict
    return Verdict("wait", "pass-expired", next_day=today_day)


def _looked(counted: Sequence[Look], first_day: int) -> Verdict:
    if not counted:
        return Verdict("not-yet", "no-counted-looks", next_day=first_day)
    newest = counted[-1]
    good_since = newest.day
    for look in reversed(counted):
        if look.sweet or not look.clear:
            break
        good_since = look.day
    if newest.sweet or not newest.clear:
        return Verdict("wait", "cloudy-or-sweet", next_day=newest.day + LOOKS_APART_DAYS)
    if newest.day - good_since < LOOKS_APART_DAYS:
        return Verdict("wait", "need-second-look", next_day=good_since + LOOKS_APART_DAYS)
    return Verdict("pass-with-care", "by-looks")
