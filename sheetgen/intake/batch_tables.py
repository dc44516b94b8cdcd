"""The keys of a batch file.  One line a key: this is what the reader, the reference and the schema are made
from.

Comes in: nothing.  Goes out: `BATCH`.
"""

from __future__ import annotations

from datetime import time
from pathlib import Path

from sheetgen import catalogue
from sheetgen.intake.data_tables import MATERIALS, SUGARS
from sheetgen.intake.day_tables import SHIFTS, WORK_DAYS
from sheetgen.intake.drink_tables import COLD, WORK
from sheetgen.intake.fields import Field, Table
from sheetgen.units import Celsius, Grams, Gravity, Litres, Metres

PAPERS = ("A4", "Letter")
GAS_FELT = ("flat", "little", "right", "lively")


def languages(beside: Path | None = None) -> tuple[str, ...]:
    """The languages that paper can be printed in; none is read from beside a batch."""
    del beside
    return catalogue.names("layouts/languages") or ("en-GB",)


def sanitisers(beside: Path | None = None) -> tuple[str, ...]:
    """Everything that cleans or sanitises, by all its names."""
    from sheetgen.intake import pantry

    return pantry.sanitisers(beside).names()


# fmt: off
SPELL = Table(
    "temperature by dates",
    (
        Field("from", "date", "the first day of it", "2027-05-01", required=True),
        Field("at", "room-range", "how warm it is from then on", "33 C", required=True),
    ),
)

ROOM = Table(
    "room",
    (
        Field("fermenting", "node",
              "where the bucket stands; a range if it changes between day and night",
              "15-20 C", table=SPELL, form="place", usual="18 C"),
        Field("warm-place", "node", "where the full bottles stand for the first weeks", "21 C", table=SPELL,
              form="place", usual="as fermenting"),
        Field("storing", "node", "where the bottles are kept after that; by dates if that changes",
              "[12 C, {from: 2027-05-01, at: 33 C}]", table=SPELL, form="place", usual="as fermenting"),
    ),
)

WATER = Table(
    "water",
    (
        Field("tap", "water-celsius", "the cold tap", "12 C", default=Celsius(12.0), assume="assume.tap",
              blank="celsius"),
        Field("fridge", "water-celsius", "water that stood in the fridge overnight", "4 C",
              default=Celsius(4.0), assume="assume.fridge", blank="celsius"),
        Field("fridge-space", "litres-or-none", "how much water the fridge can cool at once", "6 L",
              default=Litres(6.0),
              assume="assume.fridge-space", blank="litres"),
        Field("altitude", "altitude", "height above the sea, for the boiling point", "240 m",
              default=Metres(0.0),
              assume="assume.altitude", blank="metres"),
        Field("ice", "mass-or-none", "clean ice of drinking water that may go into the drink", "1 kg",
              default=Grams(0.0)),
    ),
)

VESSEL = Table(
    "vessel",
    (
        Field("name", "text", "what it is called at home", "blue bucket", default=""),
        Field("holds", "litres", "its volume, full to the brim", "15 L", required=True),
        Field("made-of", "choice", "what touches the drink: plastic, glass or steel", "plastic",
              choices=MATERIALS, usual="plastic"),
    ),
)

HYDROMETER = Table(
    "hydrometer",
    (
        Field("calibrated", "celsius", "the temperature printed on its scale", "20 C", default=Celsius(20.0)),
        Field("in-water", "gravity", "what it shows in plain water at that temperature", "0.998",
              default=Gravity(1.0)),
    ),
)

EQUIPMENT = Table(
    "equipment",
    (
        Field("vessel", "node", "the fermenting bucket: its volume, or names with values",
              "{name: blue bucket, holds: 15 L}",
              table=VESSEL),
        Field("pot", "litres", "the largest pot", "8 L"),
        Field("boil-off", "boil-off", "how much a boiling pot loses in an hour", "1.5 L"),
        Field("hydrometer", "node", "its temperature, or names with values, or none", "20 C",
              table=HYDROMETER),
        Field("cleaner", "choice", "what takes the dirt off", "percarbonate cleaner", choices=sanitisers,
              default="washing-up liquid", assume="assume.cleaner", blank="cleaner"),
        Field("sanitiser", "choice", "what sanitises the clean gear", "no-rinse acid", choices=sanitisers,
              default="no-rinse acid", assume="assume.sanitiser", blank="sanitiser"),
        Field("scales", "mass", "the smallest step that the scales show", "0.1 g", default=Grams(1.0),
              assume="assume.scales", blank="grams"),
        Field("bottling-vessel", "litres", "a second vessel to bottle from", "12 L"),
    ),
)

YEAST = Table(
    "yeast",
    (
        Field("expired", "printed-date", "the date printed on its sachet, if that has passed", "2026-12"),
        Field("opened", "yes-no", "whether the sachet was open before brew day", "yes", default=False),
    ),
    not_offered=dict.fromkeys(
        ("what", "pack", "range", "kind"),
        "a batch takes the yeast of its recipe: copy the recipe beside this file and change it",
    ),
)

BOTTLE = Table(
    "bottles",
    (
        Field("size", "millilitres", "what one bottle holds", "500 ml", required=True),
        Field("kind", "text", "what it is made for", "returnable glass", default=""),
        Field("count", "count-or-none", "how many there are", "26", required=True),
        Field("for", "text", "what they are kept for", "gifts", default=""),
    ),
)

SHIFT = Table(
    "shift",
    (
        Field("right", "shift-mm", "how far the print must move to the right", "0.5 mm", default=0.0),
        Field("down", "shift-mm", "how far the print must move down the page", "-1 mm", default=0.0),
    ),
)

BARS = Table(
    "bars",
    (
        Field("across", "bar-mm", "the bar of 100 mm across the page, measured on paper", "99.4 mm",
              default=100.0),
        Field("down", "bar-mm", "the bar of 100 mm down the page, measured on paper", "99.7 mm",
              default=100.0),
    ),
)

LABELS = Table(
    "labels",
    (
        Field("stock", "name", "the sheet of labels", "a4-2x7",
              usual="plain paper with cut marks"),
        Field("start-at", "position", "the first free label of a sheet that is partly used", "4", default=1),
        Field("discs", "name", "the sheet of round labels for caps", "round-24-a4"),
        Field("discs-start-at", "position", "the first free disc of a sheet that is partly used", "1",
              default=1),
        Field("tags", "name", "the sheet of gift tags", "tags-plain-a4"),
        Field("bands", "name", "the sheet of bands for bottle necks", "bands-plain-a4"),
        Field("shift", "table", "how far this printer must be told to move its print",
              "{right: 0.5 mm, down: -1 mm}", table=SHIFT),
        Field("bars", "table", "what this printer makes of the bars of 100 mm on the ruler page",
              "{across: 99.4 mm, down: 99.7 mm}", table=BARS),
    ),
)

ALARMS = Table(
    "alarms",
    (
        Field("at", "alarm-time", "when the phone rings on the day before", "18:00", default=time(18, 0)),
        Field("quiet", "time-range", "hours in which nothing may ring", "21:00..07:00"),
    ),
)

READING = Table(
    "reading",
    (
        Field("on", "date", "the day", "2027-03-17", required=True),
        Field("sg", "gravity-at", "what the hydrometer showed, and the sample's temperature", "1.012 at 18 C",
              required=True),
    ),
    named_by="on",
)

ADDED = Table(
    "addition",
    (
        Field("on", "date", "the day", "2027-03-12", required=True),
        Field("what", "text", "what went in", "honey", required=True),
        Field("amount", "text", "how much of it", "200 g", required=True, form="amount"),
    ),
    named_by="what",
)

WARMED = Table(
    "warming",
    (
        Field("on", "date", "the day", "2027-03-18", required=True),
        Field("to", "celsius", "the temperature of the new place", "21 C", required=True),
    ),
    named_by="on",
)

BOTTLED = Table(
    "bottling",
    (
        Field("on", "date", "the day", "2027-03-27", required=True),
        Field("litres", "plain-litres", "what was ready to bottle", "11.0"),
        Field("bottles", "node", "how many of each kind were filled", "{1 L: 6, 500 ml: 10}",
              form="filled"),
    ),
)

EVENT = Table(
    "event",
    (
        Field("date", "date", "the day on which it is to be drunk", "2027-06-12", required=True),
        Field("name", "event-name", "what it is called", "midsummer supper", default=""),
        Field("guests", "guests", "how many drink of it", "18"),
        Field("drinks-each", "drinks-each", "what each of them drinks", "2 x 330 ml", usual="2 x 330 ml"),
    ),
    named_by="name",
)

DONE = Table(
    "job done",
    (
        Field("on", "date", "the day", "2027-04-03", required=True),
        Field("what", "choice", "which of the drink's jobs", "rack", required=True,
              choices=(*WORK, COLD)),
    ),
    named_by="what",
)

LOOK = Table(
    "look",
    (
        Field("on", "date", "the day", "2027-03-29", required=True),
        Field("clear", "yes-no", "whether it was clear", "yes", required=True),
        Field("sweet", "yes-no", "whether it tasted sweet", "no", required=True),
    ),
    named_by="on",
)

TASTED = Table(
    "bottle tried",
    (
        Field("on", "date", "the day", "2027-04-10", required=True),
        Field("gas", "choice", "its gas: flat, little, right, or lively, which foams out of the bottle",
              "right", required=True, choices=GAS_FELT),
        Field("note", "text", "what there is to say of it", "a little thin", default=""),
    ),
    named_by="on",
)

ACTUAL = Table(
    "actual",
    (
        Field("brewed", "date", "the day it was really brewed", "2027-03-06"),
        Field("pitched", "date", "the day the yeast went in, if it was another", "2027-03-07"),
        Field("og", "gravity-at-or-not", "the reading before the yeast went in, or: not measured",
              "1.047 at 24 C"),
        Field("litres", "brewed-litres", "what was really in the bucket", "11.5"),
        Field("readings", "table", "every reading of the hydrometer", "[{on: 2027-03-17, sg: 1.012 at 18 C}]",
              many=True, most=90, table=READING),
        Field("dry-hopped", "date", "the day the dry hops went in", "2027-03-14"),
        Field("added", "table", "what went in that the recipe does not know",
              "[{on: 2027-03-12, what: honey, amount: 200 g}]", many=True, most=90, table=ADDED),
        Field("warmed", "table", "when it was moved to a warmer place", "[{on: 2027-03-18, to: 21 C}]",
              many=True,
              most=90, table=WARMED),
        Field("done", "table", "jobs of the drink that were done: degas, stir, strain, rack, warm, cold",
              "[{on: 2027-04-03, what: rack}]", many=True, most=90, table=DONE),
        Field("seen", "choice", "what was seen on it", "skin", many=True, commas=True, choices=("skin",)),
        Field("finish-test", "gravity-at", "the end of the finish test in a jar", "1.022 at 20 C"),
        Field("warmest-since", "celsius", "the warmest it has been since it stopped fermenting", "21 C"),
        Field("bottled", "table", "the bottling day",
              "{on: 2027-03-27, litres: 11.0, bottles: {1 L: 6, 500 ml: 10}}",
              table=BOTTLED),
        Field("looks", "table", "without a hydrometer: every look and taste before bottling",
              "[{on: 2027-03-29, clear: yes, sweet: no}]", many=True, most=90, table=LOOK),
        Field("tasted", "table", "every bottle that was opened to try it",
              "[{on: 2027-04-10, gas: right}]", many=True, most=90, table=TASTED),
    ),
)

BATCH = Table(
    "batch",
    (
        Field("batch", "code", "the code on every page, label and cap: 2 to 4 characters", "27A",
              required=True),
        Field("recipe", "recipe", "a recipe: beside this file, in your own folder, or one of ours",
              "copper-lane-amber",
              required=True),
        Field("brewer", "text", "who brews", "Imke", default=""),
        Field("volume", "batch-volume", "litres in the fermenter, or the bottles to be filled: 24 x 500 ml",
              "12 L", usual="the recipe’s, or what the guests of an event drink"),
        Field("brew-day", "day-time",
              "the day, with a time if the sheet is to show a clock; with an event it may be left out",
              "2027-03-06 10:00"),
        Field("event", "table", "what it is brewed for: a day, or a list of them",
              "{date: 2027-06-12, name: midsummer supper, guests: 18}", many=True, most=4, table=EVENT),
        Field("room", "node",
              "where it stands: a temperature or range, or fermenting, warm-place, storing; or by dates",
              "19 C", table=ROOM, usual="18 C"),
        Field("water", "table", "the water at hand", "{tap: 12 C, fridge: 4 C}", table=WATER),
        Field("equipment", "table", "the gear at hand", "{vessel: 15 L, pot: 8 L}", table=EQUIPMENT),
        Field("bottles", "node", "the bottles at hand, in the order in which they are filled",
              "24 x 500 ml one-way glass", table=BOTTLE),
        Field("fill", "choice", "which bottles: in the order of the file, or those that leave the least over",
              "least-over", choices=("in-order", "least-over"), default="in-order"),
        Field("my-days", "node",
              "the days for brewing, testing and bottling; or for each of them, or every so manieth week",
              "[sat, sun, wed]", table=WORK_DAYS, usual="any day"),
        Field("holidays", "date-range", "free days besides those", "[2027-03-26, 2027-04-05..2027-04-16]",
              many=True, commas=True),
        Field("public-holidays", "holiday-code", "a country or region whose public holidays are free too",
              "DE-BY"),
        Field("shifts", "table", "a round of days at work and days off",
              "{from: 2027-03-01, turns: [early 2, night 2, off 3]}", many=True, most=20, table=SHIFTS),
        Field("away", "date-range", "when nobody is home, first and last day", "[2027-03-13..2027-03-16]",
              many=True,
              commas=True),
        Field("alarms", "node", "when the phone rings on the day before, or none; and quiet hours",
              "{at: 18:00, quiet: 21:00..07:00}", table=ALARMS, usual="18:00"),
        Field("taken", "date", "days on which you brew or bottle another batch: no bottling then",
              "[2027-03-20]", many=True, commas=True),
        Field("carbonation", "volumes", "how much gas the drink shall have", "2.4 volumes",
              usual="as is usual for the drink"),
        Field("cold-days", "cold-days", "days in the cold between the last reading and bottling", "2",
              usual="as is usual for the drink"),
        Field("sugar", "choice", "the sugar for bottling", "dextrose", choices=SUGARS, default="table sugar",
              assume="assume.sugar", blank="sugar"),
        Field("dosing", "choice",
              "how it is measured: by weight, teaspoons, syrup or pieces for each bottle, or in bulk",
              "weight",
              choices=("weight", "teaspoons", "in-bulk", "syrup", "pieces"), default="weight",
              assume="assume.dosing", blank="dosing"),
        Field("sugar-piece", "piece", "what one piece of your sugar weighs, for dosing: pieces", "3 g",
              usual="what pieces usually weigh"),
        Field("paper", "choice", "the paper in the printer", "A4", choices=PAPERS,
              usual="as is usual for the language"),
        Field("labels", "table", "the sheets of labels", "{stock: a4-2x7, start-at: 4}", table=LABELS),
        Field("language", "choice", "the language of the paper", "en-GB", choices=languages, default="en-GB"),
        Field("units", "choice", "metric, us or uk; the other is printed small beside it", "metric",
              choices=("metric", "us", "uk"), default="metric"),
        Field("yeast", "table", "the state of the yeast at hand, if it is not fresh",
              "{expired: 2026-12, opened: yes}", table=YEAST),
        Field("actual", "table", "what really happened so far", "{brewed: 2027-03-06}", table=ACTUAL),
        Field("whole-packs", "choice",
              "what gives way so that no pack is left half: exact (nothing does), volume-follows, or "
              "strength-follows", "volume-follows",
              choices=("exact", "volume-follows", "strength-follows"), default="exact"),
        Field("packs", "node", "the sizes that things are sold in here, by name; a list for several",
              "{liquid malt extract: 1.5 kg, dry malt extract: [500 g, 1 kg]}"),
        Field("format", "choice", "the version of this kind of file", "1", choices=("1",), default="1"),
    ),
    named_by="batch",
    not_offered={
        "looks": "looks are not offered here: write them under actual: as looks:",
        "events": "there is one key for one event or several: write event: with a list",
        "guests": "guests come to an event: write event: {date: 2027-06-12, guests: 18}",
        "drinks-each": "it belongs to an event: write event: {date: 2027-06-12, guests: 8, drinks-each: 1 L}",
        "class": "a class has no batch: of its own: delete batch:, everybody gets a code",
        "people": "only a class has people: write class: 27 in place of batch:",
        "batches": "this file is a batch: write batches: in a season file, whose key is season:",
        "wishes": "this file is a batch: write wishes: in a season file, whose key is season:",
        "shared-vessel": "only in a class or season: write equipment: {vessel: 15 L}",
        "stock": "a batch has bottles: write bottles:, or stock: in a season file, whose key is season:",
        "extends": "a batch that extends another is not offered yet: write the whole batch",
        "ingredients": "a batch takes those of its recipe: copy the recipe beside this file and change it",
    },
)
