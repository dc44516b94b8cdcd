"""From a batch to its plan: quantities, gas, bottles, dates, the gate, and what must not be.

Comes in: a `sheetgen.model.Batch` and today.  Goes out: a `Plan`, or None with the stops that forbid it.
"""

from sheetgen.planning.assemble import plan_batch

__all__ = ["plan_batch"]
