"""A class, planned: where everybody stands, what is bought together, which vessels are shared.

Comes in: nothing.  Goes out: the records that `sheetgen.planning.standing` and `joint_shopping` fill.
Of each plan only what the coach needs is kept, so that two hundred people take hardly more room than twelve.
"""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Literal

from sheetgen.planning.plan import GateState
from sheetgen.problems import Said, Span
from sheetgen.records import record

Stand = Literal["unsafe", "stuck", "may-bottle", "measure-again", "wait", "to-test", "to-brew", "in-bottles"]
ORDER: tuple[Stand, ...] = (
    *("unsafe", "stuck", "may-bottle", "measure-again"),
    *("wait", "to-test", "to-brew", "in-bottles"),
)
"""How people stand, in the order of what the coach must do next."""
EMPTIED = timedelta(days=2)
"""After bottling a vessel is emptied for a day and cleaned for one (common practice, no source)."""


@record
class Chore:
    """One thing that somebody does on a day: the id of its task, whether it is done, and the clock."""

    id: str
    on: date
    done: bool
    clock: datetime | None = None


@record
class Need:
    """What one batch uses of a thing that is bought, in `unit`; `sizes` are those it is sold in, largest
    first, none for what is sold loose.  `kind`: an ingredient, yeast, sugar, caps or corks.
    """

    kind: str
    name: str
    amount: float
    unit: str
    sizes: tuple[float, ...] = ()


@record
class BottlesOf:
    """A person's bottles of one size and kind."""

    ml: float
    kind: str
    have: int
    need: int
    short: int


@record
class Standing:
    """One person of the class.  `read`: day and corrected gravity of the newest reading; `because`: the
    gate's reasons; `vessel`: the name of a shared one, `at`: where that is said; `bottled`: the day of it.
    """

    code: str
    name: str
    drink: str
    litres: float
    stand: Stand
    gate: GateState
    because: tuple[Said, ...]
    read: tuple[date, float] | None
    high: float
    ceiling: float
    by_looks: bool
    chores: tuple[Chore, ...]
    next: Chore | None
    bottled: date | None
    needs: tuple[Need, ...]
    bottles: tuple[BottlesOf, ...]
    brew_by: date
    vessel: str = ""
    at: Span | None = None

    def on(self, chore_id: str) -> date | None:
        """The day of a chore; None if there is none of that id."""
        return next((one.on for one in self.chores if one.id == chore_id), None)

    @property
    def turn(self) -> tuple[int, date, str]:
        """What the coach must do next, as an order of people."""
        return ORDER.index(self.stand), self.next.on if self.next else date.max, self.code

    @property
    def busy_until(self) -> date:
        """The last day on which the vessel is not free: bottling, a day to empty it, and one to clean it."""
        bottled = self.bottled or self.on("bottle") or date.max - EMPTIED
        return bottled + EMPTIED


@record
class Share:
    """Who gets how much of what is bought."""

    code: str
    name: str
    amount: float


@record
class Joint:
    """One thing bought for everybody: packs for the sum, what is left, who gets how much, and by when."""

    kind: str
    name: str
    unit: str
    amount: float
    packs: tuple[tuple[int, float], ...]
    left: float
    spare: int
    by: date
    shares: tuple[Share, ...]


@record
class ClassPlan:
    """A class, planned: its people in the order of their codes, and what is bought for all of them."""

    code: str
    coach: str
    printed: date
    paper: str
    language: str
    units: str
    people: tuple[Standing, ...]
    shopping: tuple[Joint, ...]
