"""What an editor can check of a person in a class: their own keys, and those of a batch in all their names.

Comes in: the `Maker` of a schema.  Goes out: the schema of one person.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from sheetgen.intake.batch_tables import BATCH
from sheetgen.intake.class_tables import PERSON
from sheetgen.intake.columns import names_of_columns
from sheetgen.intake.fields import Field

if TYPE_CHECKING:
    from sheetgen.intake.schema import Maker

Json = dict[str, Any]
_BETWEEN = r"[\s_-]*"


def person(maker: Maker) -> Json:
    """One person: the keys by their names, and by whatever else a heading may be called."""
    fields = [*PERSON.fields, *(one for one in BATCH.fields if one.key not in ("batch", "format"))]
    by_name = maker.object_of(fields, part=True)["properties"] | {"code": maker.field(BATCH["batch"])}
    others: dict[tuple[str, ...], list[str]] = {}
    for name, path in names_of_columns().items():
        others.setdefault(path, []).append(name)
    loose = {_pattern(names): _value(maker, path) for path, names in others.items()}
    return {
        "type": "object",
        "properties": by_name,
        "patternProperties": loose,
        "additionalProperties": False,
    }


def _pattern(names: list[str]) -> str:
    """Every way to write these names: capitals, spaces, hyphens and the sign between two do not matter."""
    return rf"^\s*(?:{'|'.join(_spelled(name) for name in names)})\s*$"


def _spelled(name: str) -> str:
    parts = [_BETWEEN.join(f"[{sign.upper()}{sign}]" for sign in part) for part in name.split(".")]
    return r"\s*[.>/]\s*".join(rf"{_BETWEEN}{part}{_BETWEEN}" for part in parts)


def _value(maker: Maker, path: tuple[str, ...]) -> Json:
    field = _field(path)
    return {key: value for key, value in maker.field(field).items() if key not in ("description", "examples")}


def _field(path: tuple[str, ...]) -> Field:
    own = PERSON.field(path[0]) if len(path) == 1 else None
    if own:
        return own
    outer = BATCH[path[0]]
    return outer.table[path[1]] if len(path) > 1 and outer.table else outer
