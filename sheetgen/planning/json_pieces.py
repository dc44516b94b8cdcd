"""Pieces that occur everywhere in the plan for other programs: plain values, named parts, sentences.

Comes in: values and records.  Goes out: what JSON has.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date
from typing import Any

from sheetgen.planning.plan_sheets import Amount
from sheetgen.problems import Said, SaidValue

Say = Callable[[Said], str]
Json = dict[str, Any]


def plain(value: Any) -> Any:
    """A value as JSON has it: dates as text, numbers without the dust of binary fractions."""
    if isinstance(value, date):
        return value.isoformat()
    return round(value, 6) if isinstance(value, float) else value


def named(record: object, *names: str) -> Json:
    """The attributes of a record that go out under their own names."""
    return {name: plain(getattr(record, name)) for name in names}


def each(records: Iterable[object], *names: str) -> list[Json]:
    """The same attributes of several records."""
    return [named(record, *names) for record in records]


def sentence_of(sentence: Said, say: Say) -> Json:
    """A sentence: its id, its values, and its English text."""
    values = {name: _worded(value, say) for name, value in sorted(sentence.values.items())}
    return {"id": sentence.id, "values": values, "text": say(sentence)}


def _worded(value: SaidValue, say: Say) -> Any:
    """A value of a sentence; sentences within it as their text."""
    return " ".join(say(each) for each in value) if isinstance(value, tuple) else plain(value)


def each_said(sentences: Iterable[Said], say: Say) -> list[Json]:
    """Several sentences."""
    return [sentence_of(sentence, say) for sentence in sentences]


def amount_or_none(amount: Amount | None) -> Json | None:
    """A number with its unit."""
    return named(amount, "value", "unit") if amount else None
