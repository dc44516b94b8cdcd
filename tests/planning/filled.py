"""Any of our frozen records, every field filled with a value of its own, from its type hints alone."""

from __future__ import annotations

import dataclasses
import types
import typing
from collections.abc import Iterator, Mapping
from datetime import date, datetime, time, timedelta
from typing import Any

from sheetgen.problems import Said, said


class Filler:
    """Hands out values that never repeat, so that each can be found again."""

    def __init__(self) -> None:
        self.count = 0

    def number(self) -> int:
        self.count += 1
        return self.count

    def of(self, kind: Any) -> Any:
        """A value of that type."""
        origin = typing.get_origin(kind)
        if origin in (types.UnionType, typing.Union):
            return self.of(typing.get_args(kind)[0])
        if origin is typing.Literal:
            return typing.get_args(kind)[0]
        if origin is tuple:
            return self._tuple(typing.get_args(kind))
        if origin is not None and issubclass(origin, Mapping):
            return {f"name{self.number()}": self.of(typing.get_args(kind)[1])}
        return self._plain(kind)

    def _tuple(self, kinds: tuple[Any, ...]) -> tuple[Any, ...]:
        if len(kinds) == 2 and kinds[1] is Ellipsis:
            return (self.of(kinds[0]), self.of(kinds[0]))
        return tuple(self.of(kind) for kind in kinds)

    def _plain(self, kind: Any) -> Any:
        kind = getattr(kind, "__supertype__", kind)
        if kind is Said:
            return said(f"s.{self.number()}", litres=self.number() + 0.5)
        if dataclasses.is_dataclass(kind):
            hints = typing.get_type_hints(kind)
            return kind(**{field.name: self.of(hints[field.name]) for field in dataclasses.fields(kind)})
        return self._leaf(kind)

    def _leaf(self, kind: Any) -> Any:
        made = {
            bool: lambda: True,
            int: self.number,
            float: lambda: self.number() + 0.25,
            str: lambda: f"text {self.number()}",
            date: lambda: date(2027, 1, 1) + timedelta(days=self.number()),
            datetime: lambda: datetime.combine(date(2027, 1, 1), time(10)) + timedelta(days=self.number()),
            time: lambda: time(10, self.number() % 60),
        }
        return made[kind]()


def changed(record: Any, path: str = "") -> Iterator[tuple[str, Any]]:
    """(where, the record with one leaf changed) for every leaf of it, one after the other."""
    if isinstance(record, Said):
        yield f"{path}:id", Said(record.id + "x", record.values)
        yield f"{path}:values", Said(record.id, {**record.values, "litres": -1.5})
    elif dataclasses.is_dataclass(record):
        for field in dataclasses.fields(record):
            for where, other in changed(getattr(record, field.name), f"{path}.{field.name}"):
                yield where, dataclasses.replace(record, **{field.name: other})
    elif isinstance(record, tuple):
        for index, item in enumerate(record):
            for where, other in changed(item, f"{path}[{index}]"):
                yield where, (*record[:index], other, *record[index + 1 :])
    else:
        yield path, _other(record)


def _other(leaf: Any) -> Any:
    if isinstance(leaf, bool):
        return not leaf
    if isinstance(leaf, str):
        return f"{leaf}*"
    if isinstance(leaf, time):
        return leaf.replace(hour=(leaf.hour + 1) % 24)
    return leaf + (timedelta(days=5000) if isinstance(leaf, date) else 5000)
