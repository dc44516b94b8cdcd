"""The alarms of the calendar file: one time, or a time and quiet hours, or none.

Comes in: the form of a batch.  Goes out: `model.Alarms`.
"""

from __future__ import annotations

from sheetgen.intake.batch_tables import ALARMS
from sheetgen.intake.forms import Form, Place, read_form, read_text
from sheetgen.model.reminders import Alarms
from sheetgen.nodes import Node, Text
from sheetgen.units import Misread

_USUAL = Alarms()


def read_alarms(form: Form) -> Alarms:
    """What was said of the alarms; at 18:00 the evening before if nothing was."""
    node = form.values.get("alarms")
    return _USUAL if node is None else _read(node, form.place_of("alarms"))


def _read(node: Node, place: Place) -> Alarms:
    if isinstance(node, Text):
        if node.value.strip().lower() == "none":
            return Alarms(None)
        at = read_text(ALARMS["at"], node, place)
        return _USUAL if isinstance(at, Misread) else Alarms(at)
    inside = read_form(node, ALARMS, place)
    return Alarms(inside.get("at"), inside.get("quiet"))
