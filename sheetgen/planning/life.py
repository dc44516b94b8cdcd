"""Days on which somebody can do something: weekdays by kind of work, shifts, extra days, times away.

Comes in: a `Batch`.  Goes out: `Life`, which finds the next day that works.  Tasks only ever move later.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import replace
from datetime import date, timedelta
from functools import lru_cache

from sheetgen.model import Batch, Shifts, Weekly, Work
from sheetgen.planning.plan import Move
from sheetgen.problems import Said, said
from sheetgen.records import record

HORIZON_DAYS = 366
HOME_DAYS = 3
"""Brew day and so many days after it are spent at home: it may foam over (common practice, no source)."""
_ANY = Weekly()
_WORK_OF = {"brew": "brewing", "test": "testing", "bottle": "bottling", "dry-hop": "adding", "add": "adding"}
_WORK_OF |= {"taste": "testing", "rack": "racking", "strain": "racking"}

Span = tuple[date, date]


class NoDay(ValueError):  # noqa: N818 - it is a finding, and reads as one
    """No day within a year works; `args` are the day from which we looked, and the kind of work."""


def work_of_task(task_id: str) -> Work:
    """The kind of work of a task: "test-2" is testing, "rack-1" racking; what takes a minute is looking."""
    stem = task_id.rstrip("0123456789").rstrip("-")
    found: Work = _WORK_OF.get(stem) or _WORK_OF.get(stem.removesuffix("-day"), "looking")  # type: ignore[assignment]
    return found


@record
class Life:
    """When somebody is at home, and which of those days are for which work.

    `days`: the weekdays of each kind of work that has some.  `extra_days`, `extra_spans`: free days besides;
    they are free whatever the shifts say.  `public_days`: free days besides, unless one has to work.
    `away`: in order, none touching the next.  `taken`: days on which another batch is brewed or bottled;
    none is filled then.
    """

    days: tuple[tuple[Work, Weekly], ...] = ()
    extra_days: frozenset[date] = frozenset()
    extra_spans: tuple[Span, ...] = ()
    public_days: frozenset[date] = frozenset()
    shifts: tuple[Shifts, ...] = ()
    away: tuple[Span, ...] = ()
    taken: frozenset[date] = frozenset()

    def without_single_days(self) -> Life:
        """What comes round again and again: weekdays, weeks in turn and shifts."""
        return Life(days=self.days, shifts=self.shifts)

    def absence(self, day: date) -> Span | None:
        """The absence that covers `day`, or None."""
        return _covering(self.away, day)

    def away_until(self, day: date) -> date | None:
        """The last day of the absence that covers `day`, or None."""
        found = self.absence(day)
        return found[1] if found else None

    def is_home(self, day: date, days_after: int = 0) -> bool:
        """Whether somebody is at home on that day and on so many days after it."""
        return all(self.absence(day + timedelta(days=more)) is None for more in range(days_after + 1))

    def days_for(self, work: Work) -> Weekly:
        """The weekdays of a kind of work."""
        return next((days for kind, days in self.days if kind == work), _ANY)

    def is_extra(self, day: date) -> bool:
        """Whether the day was named as a free one."""
        return day in self.extra_days or _covering(self.extra_spans, day) is not None

    def at_work(self, day: date) -> bool:
        """Whether the shifts take the day; a day that was named as free is not taken."""
        return not self.is_extra(day) and any(each.at_work(day) for each in self.shifts)

    def is_mine(self, day: date, work: Work = "brewing") -> bool:
        """Whether `day` is one for that kind of work, at home or not."""
        return self._is_free(day, work, self.days_for(work))

    def _is_free(self, day: date, work: Work, days: Weekly) -> bool:
        """Whether nothing but an absence could stand in the way; `days` are those for that work."""
        if work == "bottling" and day in self.taken:
            return False
        open_to_all = days.has(day) or day in self.public_days
        if open_to_all and (work == "looking" or not any(each.at_work(day) for each in self.shifts)):
            return True
        return self.is_extra(day)

    def works(self, day: date, work: Work = "testing") -> bool:
        """Whether the day can be used: at home, and a day for that kind of work."""
        return self.absence(day) is None and self.is_mine(day, work)

    def hinders(self, day: date, work: Work) -> Said | None:
        """What stands in the way on that day, or None."""
        found = self.absence(day)
        if found is None:
            return self._refusal(day, work)
        first, last = found
        return said("move.away", since=first, until=last) if first < last else said("move.away-on", on=day)

    def _refusal(self, day: date, work: Work) -> Said | None:
        """Why a day at home is not one for that kind of work."""
        if work == "bottling" and day in self.taken:
            return said("move.other-batch", on=day)
        if self.is_extra(day):
            return None
        if work != "looking" and self.at_work(day):
            return said("move.at-work", on=day)
        days = self.days_for(work)
        if days.has(day) or day in self.public_days:
            return None
        return said("move.not-my-week" if days.names(day) else "move.not-my-day", on=day)

    def next_day(self, wanted: date, work: Work | bool = "testing") -> tuple[date, tuple[Move, ...]]:
        """The first day from `wanted` on that works, and the move if that is not `wanted` itself.

        `work` True is testing, False looking.  Raises NoDay when none works within a year.
        """
        kind: Work = work if isinstance(work, str) else "testing" if work else "looking"
        day, last, days = wanted, wanted + timedelta(days=HORIZON_DAYS), self.days_for(kind)
        while (until := self.away_until(day)) or not self._is_free(day, kind, days):
            day = (until or day) + timedelta(days=1)
            if day > last:
                raise NoDay(wanted, kind)
        because = self.hinders(wanted, kind)
        return day, (Move(wanted, because),) if because else ()


def life_of(batch: Batch) -> Life:
    """The batch's own days."""
    return Life(
        days=_by_work(batch),
        extra_days=batch.extra_days,
        extra_spans=joined(batch.extra_spans),
        public_days=batch.public_days,
        shifts=batch.shifts,
        away=joined(batch.away),
        taken=batch.taken,
    )


def at_leisure(batch: Batch) -> Batch:
    """The batch of somebody who is always at home and has every day free."""
    return replace(batch, my_days=None, work_days=(), shifts=(), away=())


def with_free_day(batch: Batch, day: date) -> Batch:
    """The same life with one more day at home, free for any work."""
    away = [part for span in joined(batch.away) for part in _parts_without(span, day)]
    return replace(batch, away=tuple(away), extra_days=batch.extra_days | {day})


def _parts_without(span: Span, day: date) -> list[Span]:
    """What is left of a span without a day."""
    first, last = span
    if not first <= day <= last:
        return [span]
    parts = [(first, day - timedelta(days=1)), (day + timedelta(days=1), last)]
    return [(begins, ends) for begins, ends in parts if begins <= ends]


def _by_work(batch: Batch) -> tuple[tuple[Work, Weekly], ...]:
    """Days for each kind of work: its own, else those for all.  To look at something needs only somebody at
    home.
    """
    if batch.my_days is None:
        return batch.work_days
    own, usual = dict(batch.work_days), Weekly(batch.my_days)
    hands_on: tuple[Work, ...] = ("brewing", "testing", "adding", "racking", "bottling")
    return tuple({**dict.fromkeys(hands_on, usual), **own}.items())


@lru_cache(maxsize=64)
def joined(spans: tuple[Span, ...]) -> tuple[Span, ...]:
    """The spans in order; those that overlap or follow each other made one."""
    found: list[Span] = []
    for first, last in sorted(spans):
        if found and first <= found[-1][1] + timedelta(days=1):
            found[-1] = (found[-1][0], max(last, found[-1][1]))
        else:
            found.append((first, last))
    return tuple(found)


def _covering(spans: tuple[Span, ...], day: date) -> Span | None:
    """The span that covers the day; the spans are in order and do not overlap."""
    place = bisect_right(spans, day, key=lambda span: span[0]) - 1
    return spans[place] if place >= 0 and day <= spans[place][1] else None
