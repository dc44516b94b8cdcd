"""The keys of a season file.  One line a key, as for a batch.

Comes in: nothing.  Goes out: `SEASON`, `SHARED_VESSEL` and the keys that a season says for all its batches.
"""

from __future__ import annotations

from sheetgen.intake.batch_tables import BATCH, VESSEL
from sheetgen.intake.fields import Field, Table

MOST_BATCHES, MOST_WISHES, MOST_VESSELS = 60, 12, 20

# fmt: off
SHARED_VESSEL = Table(
    "vessel",
    (
        Field("name", "text", "what it is called; batches name it so", "blue bucket", required=True),
        Field("holds", "litres", "its volume, full to the brim", "15 L", required=True),
        VESSEL["made-of"],
    ),
    named_by="name",
)

SEASON = Table(
    "season",
    (
        Field("season", "season-name", "its name, on its pages and files", "2027", required=True),
        Field("batches", "node", "files beside this one, or batches written out here",
              "[28a.yaml, 28b.yaml]", required=True, many=True, most=MOST_BATCHES),
        Field("base", "node", "what the batches and wishes that are written out here have in common: any "
              "keys of a batch", "{room: 19 C, brewer: Imke}"),
        Field("vessels", "table", "the vessels that are shared", "[{name: blue bucket, holds: 15 L}]",
              many=True, most=MOST_VESSELS, table=SHARED_VESSEL),
        Field("cleaning", "days-or-none", "days between two batches in one vessel, after bottling and a day "
              "to empty it", "1 day", default=0),
        Field("stock", "node", "all bottles, by size and kind, with caps and corks; in place of what the "
              "batches count", "{500 ml returnable glass: 60, caps: 200}"),
        Field("drunk", "a-week", "how many bottles are drunk, so that they come back", "6 a week"),
        Field("warm-place", "bottle-count", "how many full bottles the warm place holds", "40 bottles"),
        BATCH["my-days"],
        BATCH["holidays"],
        BATCH["public-holidays"],
        BATCH["shifts"],
        BATCH["away"],
        Field("two-on-a-day", "yes-no", "whether two batches may be brewed or bottled on one day", "no",
              default=False),
        Field("wishes", "node", "batches that have no day yet; sheetgen suggest finds them one",
              "[{batch: 28V, recipe: towrope-mild, ready-by: 2027-06-12}]", many=True, most=MOST_WISHES),
        BATCH["brewer"],
        BATCH["paper"],
        BATCH["language"],
        BATCH["units"],
        BATCH["format"],
    ),
    named_by="season",
)
WISH = Table(
    "wish",
    (
        *(one for one in BATCH.fields if one.key != "brew-day"),
        Field("ready-by", "date", "the day by which it is wanted", "2027-06-12"),
    ),
)
# fmt: on

FOR_ALL = ("my-days", "holidays", "public-holidays", "shifts", "away")
"""One person's days: what the season says of them holds for every batch, whatever the batch says."""
IF_SILENT = ("brewer", "paper", "language", "units")
"""What the season says of these holds for every batch that says nothing."""
NOT_BOTTLES = ("caps", "corks")
