"""What an editor can check where a key takes one value or several sorts of names with values.

Comes in: the `Maker` of a schema and a field.  Goes out: pieces of JSON Schema, by the name of the form.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING

from sheetgen.intake import batch_tables, class_tables, day_tables, season_tables
from sheetgen.intake import patterns as p
from sheetgen.intake.fields import Field
from sheetgen.intake.packs import MOST_SIZES
from sheetgen.intake.rooms import MOST_SPELLS
from sheetgen.intake.schema_kinds import Json, text_of

if TYPE_CHECKING:
    from sheetgen.intake.schema import Maker

_MOST_ROWS = 8
_FILE = r"[^\s./][^\n]*\."
_ANY_DAY = p.one_of(p.plain(words) for words in ("any", "any day", "all"))


def either(*ways: Json) -> Json:
    """Any of these."""
    return {"anyOf": list(ways)}


def list_of(items: Json, most: int) -> Json:
    """A list with at most so many."""
    return {"type": "array", "items": items, "maxItems": most}


def file_name(*endings: str) -> Json:
    """The name of a file beside this one."""
    return text_of(f"{_FILE}{p.one_of(p.plain(ending) for ending in endings)}")


# Rooms and gear


def _place(maker: Maker, field: Field) -> Json:
    """A temperature, or one after another by dates."""
    own = maker.kind("room-range" if field.key in ("room", "fermenting") else "room")
    spell = maker.whole(batch_tables.SPELL)
    by_dates = list_of(either(maker.kind("room-range"), spell), MOST_SPELLS) | {"contains": spell}
    return either(own, by_dates, spell)


def _room(maker: Maker, field: Field) -> Json:
    return either(*_place(maker, field)["anyOf"], maker.table(batch_tables.ROOM))


def _vessel(maker: Maker, field: Field) -> Json:
    name = [maker.kind("text")] if maker.vessels_have_names else []
    return either(maker.kind("litres"), *name, maker.table(field.table or batch_tables.VESSEL))


def _hydrometer(maker: Maker, field: Field) -> Json:
    alone = text_of(rf"{p.WARMTH}|{p.plain('none')}")
    return either(alone, maker.table(field.table or batch_tables.HYDROMETER))


def _alarms(maker: Maker, field: Field) -> Json:
    alone = text_of(rf"{p.EVENING}|{p.plain('none')}")
    return either(alone, maker.table(field.table or batch_tables.ALARMS))


# Bottles


def _rows(count: Json, spelled_out: list[Json]) -> Json:
    """Rows of bottles: as text, as sizes and kinds with their counts, or as a list of both."""
    counted = {
        "type": "object",
        "minProperties": 1,
        "patternProperties": {p.whole(p.ROW): {"type": ["null", "string"], "maxLength": 0}}
        | {rf"^\s*{p.SIZED}$": count},
        "additionalProperties": False,
    }
    row = either(text_of(p.ROW), *spelled_out, counted)
    return either(*row["anyOf"], list_of(row, 1000))


def _bottles(maker: Maker, field: Field) -> Json:
    return _rows(maker.kind("count"), [maker.table(field.table or batch_tables.BOTTLE)])


def _filled(maker: Maker, field: Field) -> Json:
    del field
    return _rows(maker.kind("count-or-none"), [])


def _stock(maker: Maker, field: Field) -> Json:
    del field
    caps = {name: maker.kind("count-or-none") for name in season_tables.NOT_BOTTLES}
    sizes = {rf"^\s*{p.SIZED}$": maker.kind("count")}
    return {
        "type": "object",
        "properties": caps,
        "patternProperties": sizes,
        "additionalProperties": False,
    }


# Days


def _weekdays(maker: Maker, field: Field) -> Json:
    text = text_of(f"{_ANY_DAY}|{p.listed(p.WEEKDAY)}")
    days = list_of(maker.kind("weekday"), 1000) | {"minItems": 1}
    return either(text, days, *([maker.table(day_tables.TURNS)] if field.key != "days" else []))


def _my_days(maker: Maker, field: Field) -> Json:
    return either(*_weekdays(maker, field)["anyOf"], maker.table(day_tables.WORK_DAYS))


# Packs and amounts


def _sizes(maker: Maker, field: Field) -> Json:
    del field
    size = maker.kind("amount")
    return either(size, list_of(size, MOST_SIZES) | {"minItems": 1})


def _packs(maker: Maker, field: Field) -> Json:
    return {"type": "object", "additionalProperties": _sizes(maker, field)}


def _amount(maker: Maker, field: Field) -> Json:
    del field
    return maker.kind("amount")


# Seasons and classes


def _batches(maker: Maker, field: Field) -> Json:
    one = either(file_name("yaml", "yml"), maker.part(batch_tables.BATCH))
    return either(*one["anyOf"], list_of(one, field.most))


def _base(maker: Maker, field: Field) -> Json:
    del field
    return maker.part(batch_tables.BATCH)


def _wishes(maker: Maker, field: Field) -> Json:
    one = maker.part(season_tables.WISH)
    return either(one, list_of(one, field.most))


def _people(maker: Maker, field: Field) -> Json:
    del field
    return either(file_name("csv", "tsv", "txt"), maker.people())


def _files(maker: Maker, field: Field) -> Json:
    del maker
    one = file_name(*(("yaml", "yml") if field.key == "batch-file" else ("csv", "tsv", "txt")))
    return either(one, list_of(one, class_tables.MOST_FILES)) if field.many else one


FORMS: Mapping[str, Callable[[Maker, Field], Json]] = MappingProxyType(
    {
        "room": _room,
        "place": _place,
        "vessel": _vessel,
        "hydrometer": _hydrometer,
        "alarms": _alarms,
        "bottles": _bottles,
        "filled": _filled,
        "stock": _stock,
        "weekdays": _weekdays,
        "my-days": _my_days,
        "sizes": _sizes,
        "packs": _packs,
        "amount": _amount,
        "batches": _batches,
        "base": _base,
        "wishes": _wishes,
        "people": _people,
        "files": _files,
    }
)
"""By the `form` of a field, or by its key where it has no form of its own."""
