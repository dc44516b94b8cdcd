"""What the rules look at: everything that was worked out for one batch.

Comes in: what the other modules of planning worked out.  Goes out: `Facts`, and `finding`, which makes a
`Problem` of a sentence and the key that it is about.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime

from sheetgen.model import Batch
from sheetgen.planning.forward import Runs
from sheetgen.planning.life import Life
from sheetgen.planning.plan import BottlePlan, Carbonation, Gate, GateReading, Task, WaterPlan
from sheetgen.planning.plan_events import EventPlan
from sheetgen.planning.scaling import Scaled
from sheetgen.planning.strength import Strength
from sheetgen.problems import Level, Problem, Said, Suggestion
from sheetgen.records import record


@record
class Facts:
    """Everything the rules may look at; `pitching`: when the yeast goes in, if the start is known;
    `counted_back`: the volume comes from the guests of the events; `in_season`: what comes of another brew
    day for a batch of a season.
    """

    batch: Batch
    today: date
    scaled: Scaled
    found: Strength
    water: WaterPlan
    pot_l: float
    vessel_l: float
    gas: Carbonation | None
    bottles: BottlePlan
    gate: Gate
    tasks: tuple[Task, ...]
    life: Life
    pitching: datetime | None = None
    events: tuple[EventPlan, ...] = ()
    counted_back: bool = False
    in_season: Runs | None = None

    def task(self, task_id: str) -> Task:
        """The task of that id."""
        return next(task for task in self.tasks if task.id == task_id)


def _holding(key: str) -> Iterator[str]:
    """The keys that hold this one, nearest first; of each its name before its value."""
    while "." in key:
        key = key.rpartition(".")[0]
        yield from (f"{key}:", key)


def key_of(facts: Facts, reading: GateReading) -> str:
    """The key under which the file has this reading."""
    written = enumerate(facts.batch.actual.readings)
    index = next((n for n, one in written if (one.on, float(one.sg)) == (reading.on, reading.sg)), 0)
    return f"actual.readings.{index}"


def finding(
    facts: Facts, level: Level, message: Said | str, key: str, fix: str | Said = "", write: str = ""
) -> Problem:
    """A finding about this key of the batch file, or about the nearest part that holds it, by its name;
    `write`: a value of that key that would do, where the file has one.
    """
    where = facts.batch.where
    span = where.get(key) or next((where[part] for part in _holding(key) if part in where), None)
    own = where.get(key) if write else None
    ways = (Suggestion(own, write),) if own and not own.file.startswith("--") and not own.cell else ()
    return Problem(level, message, span, fix, (f"batch {facts.batch.code}", *key.split(".")[:1]), ways)
