"""How a kind of file is described: its keys, what each one takes, and what holds when it is left out.

Comes in: nothing.  Goes out: `Field` and `Table`, from which forms are read, and the reference and the
schema for editors can be made.  The tables themselves are in `batch_tables`, `recipe_tables` and
`data_tables`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import field
from pathlib import Path
from types import MappingProxyType
from typing import Any

from sheetgen.records import record

Choices = tuple[str, ...] | Callable[[Path | None], tuple[str, ...]]
"""The words themselves, or what finds them: beside a batch file first, if its folder is given."""


@record
class Field:
    """One key.

    `kind`: the name of a reader in `kinds.KINDS`, or "table" (names inside, described by `table`), or "node"
    (read by code of its own; `help` says how).
    `many`: a list of them, or one alone, up to `most`.  `commas`: a list may also be one text with commas.
    `choices`: the words to choose from; `later`: words that are known but not offered yet.  `default` with
    `assume`: what holds when the key is left out, and the id of the sentence that says so; the sentence's
    blank is called `blank`.  A default that depends on other keys is worked out where the file is read:
    `usual` says it in words.  `form`: what stands there, for the schema, where `kind` does not tell it.
    """

    key: str
    kind: str
    help: str
    example: str
    required: bool = False
    many: bool = False
    commas: bool = False
    most: int = 1000
    choices: Choices = ()
    later: tuple[str, ...] = ()
    table: Table | None = None
    default: Any = None
    assume: str = ""
    blank: str = ""
    usual: str = ""
    form: str = ""

    def allowed(self, beside: Path | None = None) -> tuple[str, ...]:
        """The words to choose from, if the kind is "choice", for a file that lies in the folder `beside`."""
        return self.choices(beside) if callable(self.choices) else self.choices


@record
class Table:
    """The keys of a file or of a mapping inside it.

    `called`: what the thing is called in messages.  `named_by`: the key whose value names one thing in
    breadcrumbs.  `not_offered`: keys that are known but have no meaning yet, with the sentence that says
    what to do instead.
    """

    called: str
    fields: tuple[Field, ...]
    named_by: str = ""
    not_offered: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))

    def field(self, key: str) -> Field | None:
        """The field of that key, or None."""
        return next((one for one in self.fields if one.key == key), None)

    def __getitem__(self, key: str) -> Field:
        """The field of that key; KeyError if there is none."""
        found = self.field(key)
        if found is None:
            raise KeyError(key)
        return found

    def keys(self) -> tuple[str, ...]:
        """All keys, in the order in which they are best written."""
        return tuple(one.key for one in self.fields)
