"""JSON Schemas (2020-12) of the files that people write, for editors: keys, hover texts, patterns, choices.

Comes in: the tables from which files are read.  Goes out: `schema_of` a kind of file, and the line that tells
an editor where the schema lies.  A schema lets pass whatever the reader takes; what only the reader can know
(whether a recipe is there, whether a bottle bears its gas) it leaves to the reader.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Any

from sheetgen import catalogue, nodes
from sheetgen.intake import patterns, people_schema, schema_forms
from sheetgen.intake.batch_tables import BATCH
from sheetgen.intake.class_tables import CLASS, NOT_FOR_ALL
from sheetgen.intake.defaults import default_text, without_it
from sheetgen.intake.drink_tables import DRINK
from sheetgen.intake.fields import Field, Table
from sheetgen.intake.kinds import KINDS
from sheetgen.intake.recipe_tables import RECIPE
from sheetgen.intake.schema_kinds import SCHEMAS, Json
from sheetgen.intake.season_tables import SEASON
from sheetgen.nodes import Entries, Items, Node, Text

DIALECT = "https://json-schema.org/draft/2020-12/schema"
FILES: Mapping[str, str] = MappingProxyType(
    {
        "batch": "A batch of sheetgen",
        "member": "A batch of sheetgen that belongs to a season",
        "recipe": "A recipe of sheetgen",
        "drink": "A drink of sheetgen",
        "season": "A season of sheetgen: several batches",
        "class": "A class of sheetgen: one batch, many brewers",
        "people": "The people of a class of sheetgen",
    }
)
"""The kinds of file that have a schema, with their titles."""
_OURS = {"recipe": "recipes", "stock": "layouts/stocks", "discs": "layouts/stocks", "tags": "layouts/stocks"}
_OURS["bands"] = "layouts/stocks"


def file_name(kind: str) -> str:
    """What the schema of that kind is called, when it is written beside the files."""
    return f"{kind}.schema.json"


def modeline(kind: str) -> str:
    """The remark in the first lines of a file that tells editors of the schema beside it."""
    return f"# yaml-language-server: $schema={file_name(kind)}"


def schema_of(kind: str, beside: Path | None = None) -> Json:
    """The schema of a kind of file; what lies in the folder `beside` is known to it."""
    maker = Maker(beside, vessels_have_names=kind in ("member", "season"))
    if kind == "people":
        found = maker.people()
    elif kind == "season":
        found = maker.whole(SEASON, inline=True)
    elif kind == "class":
        found = _class(maker)
    elif kind == "recipe":
        found = maker.whole(RECIPE, inline=True)
    elif kind == "drink":
        found = maker.whole(DRINK, inline=True)
    else:
        found = maker.whole(BATCH, inline=True) | _needed(kind)
    head = {"$schema": DIALECT, "$id": f"urn:sheetgen:schema:{kind}:1", "title": FILES[kind]}
    return head | found | {"$defs": dict(sorted(maker.defs.items()))}


def _needed(kind: str) -> Json:
    """A batch has a day or an event; one that stands alone has bottles, or says how many by other means."""
    of_bottles = {"type": "string", "pattern": rf"^\s*[0-9]{{1,5}}\s*{patterns.TIMES}"}
    by_volume = {"required": ["volume"], "properties": {"volume": of_bottles}}
    day = {"anyOf": [{"required": ["brew-day"]}, {"required": ["event"]}]}
    bottles = {"anyOf": [{"required": ["bottles"]}, {"required": ["event"]}, by_volume]}
    return {"allOf": [day, bottles] if kind == "batch" else [day]}


def _class(maker: Maker) -> Json:
    for_all = tuple(one for one in BATCH.fields if one.key not in (*NOT_FOR_ALL, "format"))
    own, rest = maker.object_of(CLASS.fields), maker.object_of(for_all, part=True)
    return own | {"properties": own["properties"] | rest["properties"]}


class Maker:
    """Makes pieces of one schema; tables that occur more than once stand under `$defs`.

    A `part` is laid over other files before it is read, so that nothing in it is required.
    """

    def __init__(self, beside: Path | None, *, vessels_have_names: bool = False) -> None:
        self.beside, self.vessels_have_names = beside, vessels_have_names
        self.defs: dict[str, Json] = {}
        self._names: dict[tuple[int, bool], str] = {}
        self._kept: list[Table] = []
        self._part = False

    def whole(self, table: Table, *, inline: bool = False) -> Json:
        """Names with values of which those that are required must be there."""
        return self._made(table, part=False, inline=inline)

    def part(self, table: Table) -> Json:
        """The same, of which some may stand elsewhere."""
        return self._made(table, part=True)

    def table(self, table: Table) -> Json:
        """A mapping inside: a part inside of a part."""
        return self._made(table, part=self._part)

    def people(self) -> Json:
        """A list of people: names, or names with values."""
        own = people_schema.person(self)
        return {"type": "array", "items": {"anyOf": [self.kind("person-name"), own]}, "minItems": 1}

    def kind(self, name: str) -> Json:
        """A single value of that kind."""
        self.defs.setdefault(f"{name}-value", dict(SCHEMAS[name]))
        return {"$ref": f"#/$defs/{name}-value"}

    def _shared(self, name: str, form: str, field: Field) -> Json:
        """What a form takes, said once."""
        if name not in self.defs:
            self.defs[name] = {}
            self.defs[name] = schema_forms.FORMS[form](self, field)
        return {"$ref": f"#/$defs/{name}"}

    def _made(self, table: Table, *, part: bool, inline: bool = False) -> Json:
        if inline:
            return self.object_of(table.fields, part=part)
        key = (id(table), part)
        if key not in self._names:
            name = self._names[key] = self._free_name(table, part)
            self._kept.append(table)  # so that no other table gets its id
            self.defs[name] = {}
            self.defs[name] = self.object_of(table.fields, part=part)
        return {"$ref": f"#/$defs/{self._names[key]}"}

    def _free_name(self, table: Table, part: bool) -> str:
        name = table.called.replace(" ", "-") + ("-part" if part else "")
        taken = sum(1 for known in self.defs if known == name or known.startswith(f"{name}-or-"))
        return f"{name}-or-{taken + 1}" if taken else name

    def object_of(self, fields: Iterable[Field], *, part: bool = False) -> Json:
        """Names with values: these and no others."""
        before, self._part = self._part, part
        found = {one.key: self.field(one) for one in fields}
        self._part = before
        needed = [one.key for one in fields if one.required and not part]
        must = {"required": needed} if needed else {}
        return {"type": "object", "properties": found, **must, "additionalProperties": False}

    def field(self, field: Field) -> Json:
        """One key, with what an editor shows of it."""
        told = without_it(field)
        about = f"{field.help[0].upper()}{field.help[1:]}. For example: {field.example}"
        about += f". Without it: {told}" if told else ""
        text = default_text(field)
        usual = {"default": _plain(field, text)} if text else {}
        examples = {"examples": [_plain(field, field.example)]}
        return {"description": f"{about}.", **self._value(field), **usual, **examples}

    def _value(self, field: Field) -> Json:
        form = field.form or (field.key if field.kind == "node" else "")
        if form:
            name = form if form == field.key else f"{form}-of-{field.key}"
            return self._shared(f"{name}{'-part' if self._part else ''}", form, field)
        if not field.many:
            return self._one(field)
        alone, part = self._one(field), self._part
        self._part = False  # a list is never joined with another
        one = self._one(field)
        self._part = part
        text = [self._listed(field)] if field.commas else []
        return schema_forms.either(alone, *text, schema_forms.list_of(one, field.most))

    def _one(self, field: Field) -> Json:
        if field.table and field.kind == "table":
            return self.table(field.table)
        if field.kind == "choice":
            return self._choice(field)
        wrong = f"expected {KINDS[field.kind].what}, such as {field.example.strip('[]')}"
        found = self.kind(field.kind) | {"patternErrorMessage": wrong}
        known = catalogue.names(_OURS[field.key], self.beside) if field.key in _OURS else ()
        return schema_forms.either({"enum": list(known)}, found) if known else found

    def _choice(self, field: Field) -> Json:
        """The words themselves, which editors offer, and other ways of writing them."""
        words = field.allowed(self.beside)
        loose = {"type": "string", "pattern": patterns.whole(patterns.word_of(words))}
        numbers = [int(word) for word in words if word.isdigit()]
        return schema_forms.either({"enum": [*words, *numbers]}, loose)

    def _listed(self, field: Field) -> Json:
        """Several in one text, with commas between them."""
        if field.kind == "choice":
            piece = patterns.word_of(field.allowed(self.beside))
        else:
            pattern = str(SCHEMAS[field.kind].get("pattern", ""))
            piece = pattern.removeprefix(r"^\s*(?:").removesuffix(r")\s*$")
        if field.kind in ("text", "turn") or not piece:
            return {"type": "string"}
        return {"type": "string", "pattern": f"^{patterns.listed(piece)}$"}


# Values as an editor sees them


def _plain(field: Field, written: str) -> Any:
    """What a file would say so, as a value of JSON; a bare number where the key takes one."""
    tree, _ = nodes.load(f"- {written}\n".encode(), "example")
    value = _json(tree.items[0]) if isinstance(tree, Items) else written
    kinds = SCHEMAS.get(field.kind, {}).get("type", [])
    number = isinstance(value, str) and {"number", "integer"} & set(kinds) and "boolean" not in kinds
    return _number(value) if number else value


def _number(value: str) -> Any:
    try:
        return int(value) if value.isdigit() else float(value)
    except ValueError:
        return value


def _json(node: Node) -> Any:
    if isinstance(node, Text):
        return node.value
    if isinstance(node, Items):
        return [_json(item) for item in node.items]
    if isinstance(node, Entries):
        return {entry.key.value: _json(entry.value) for entry in node.entries}
    return None
