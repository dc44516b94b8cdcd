"""The keys of a class file that are not those of a batch.  One line a key, as for a batch.

Comes in: nothing.  Goes out: `CLASS`, `PERSON`, and the keys of a batch that a class cannot have.
"""

from __future__ import annotations

from sheetgen.intake.batch_tables import BATCH
from sheetgen.intake.fields import Field, Table

MOST_FILES, MOST_IGNORED = 20, 60
NOT_FOR_ALL = ("batch", "brewer", "format")
"""Keys of a batch that are each person's own: what a batch file says of them is left aside."""

# fmt: off
CLASS = Table(
    "class",
    (
        Field("class", "class-code", "the first two characters of every code, and of the names of files",
              "27", required=True),
        Field("people", "node", "who brews: a table beside this file, or a list written out here",
              "people.csv", required=True),
        Field("batch-file", "text", "a batch beside this file that all begin with; keys here go before",
              "base.yaml", form="files"),
        Field("coach", "text", "whose roster it is", "Odile", default=""),
        Field("readings", "text", "tables of what was read since, beside this file", "[week-2.csv]",
              many=True, most=MOST_FILES, form="files"),
        Field("ignore", "text", "columns of the table that are not for us", "[phone, e-mail]",
              many=True, commas=True, most=MOST_IGNORED),
        BATCH["format"],
    ),
    named_by="class",
)

PERSON = Table(
    "person",
    (
        Field("name", "person-name", "who it is; it stands on every page", "Imke", required=True),
        Field("start", "start-time", "the time of the brew day, where the day is the same for all", "10:30"),
        Field("shared-vessel", "person-name", "a vessel that several use, one after the other", "blue tub"),
        Field("gone", "yes-no", "whether the person has left the class: the code stays", "yes",
              default=False),
    ),
    named_by="name",
)
# fmt: on
