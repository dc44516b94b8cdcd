"""Frozen records that cost little at start-up, for modules that hold many of them.

Comes in: a class with annotated fields, as for `dataclasses.dataclass`.  Goes out: what
`dataclass(frozen=True)` would make of it (`fields`, `replace` and `match` work), with methods that all
records share.

A frozen dataclass writes seven methods for each class as text and compiles them: half a millisecond a class
at every start of the program, five times what a record takes.  Making one thing of a class costs the same
when its fields are named, and half as much again when they are not.
"""

from __future__ import annotations

from dataclasses import MISSING, FrozenInstanceError, dataclass, field, fields
from operator import attrgetter
from typing import Any, NoReturn, TypeVar, dataclass_transform

T = TypeVar("T")


@dataclass_transform(frozen_default=True, field_specifiers=(field,))
def record(made: type[T]) -> type[T]:
    """Class decorator: a frozen dataclass."""
    return _shared(dataclass(init=False, repr=False, eq=False)(made))


@dataclass_transform(frozen_default=True, kw_only_default=True, field_specifiers=(field,))
def named_record(made: type[T]) -> type[T]:
    """Class decorator: a frozen dataclass whose fields are given by name only."""
    return _shared(dataclass(init=False, repr=False, eq=False, kw_only=True)(made))


class _About:
    """What the shared methods know about a class."""

    def __init__(self, made: Any) -> None:
        held = fields(made)
        self.names = frozenset(each.name for each in held)
        self.placed = tuple(each.name for each in held if not each.kw_only)
        self.defaults = {each.name: each.default for each in held if each.default is not MISSING}
        self.factories = {
            each.name: each.default_factory for each in held if each.default_factory is not MISSING
        }
        self.compared = attrgetter("__class__", *(each.name for each in held if each.compare))


def _shared(made: type[T]) -> type[T]:
    """The class with the methods of all records, where it has none of its own."""
    own = vars(made)
    for name, value in {"_about": _About(made), **_METHODS}.items():
        if name == "_about" or own.get(name) is None:
            setattr(made, name, value)
    return made


def _fill(self: Any, /, *placed: object, **named: object) -> None:
    """`__init__`: it fills the record's dictionary, past the refusal to be changed."""
    about, held = self._about, self.__dict__
    held.update(about.defaults)
    if placed:
        given = dict(zip(about.placed, placed, strict=False))
        if len(given) < len(placed) or (named and given.keys() & named.keys()):
            raise TypeError(f"{type(self).__name__} is given too many values")
        held.update(given)
    held.update(named)
    if about.factories:
        held.update({name: make() for name, make in about.factories.items() if name not in held})
    if held.keys() != about.names:
        wrong = ", ".join(sorted(held.keys() ^ about.names))
        raise TypeError(f"{type(self).__name__} lacks values, or does not know them: {wrong}")


def _equal(self: Any, other: Any) -> Any:
    compared = self._about.compared
    return compared(self) == compared(other) if type(self) is type(other) else NotImplemented


def _hash(self: Any) -> int:
    return hash(self._about.compared(self))


def _shown(self: Any) -> str:
    shown = (f"{each.name}={getattr(self, each.name)!r}" for each in fields(self) if each.repr)
    return f"{type(self).__qualname__}({', '.join(shown)})"


def _refuse_setting(_self: object, name: str, _value: object) -> NoReturn:
    raise FrozenInstanceError(f"cannot assign to field {name!r}")


def _refuse_deleting(_self: object, name: str) -> NoReturn:
    raise FrozenInstanceError(f"cannot delete field {name!r}")


_METHODS = {
    "__init__": _fill,
    "__eq__": _equal,
    "__hash__": _hash,
    "__repr__": _shown,
    "__setattr__": _refuse_setting,
    "__delattr__": _refuse_deleting,
}
