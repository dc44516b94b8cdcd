"""The keys of a drink's file: its days, its gate, its gas, its work besides the ingredients.

Comes in: nothing.  Goes out: `DRINK` and the tables inside it.
"""

from __future__ import annotations

from sheetgen.intake.fields import Field, Table
from sheetgen.intake.recipe_tables import keepings

# fmt: off
WORK = ("degas", "stir", "strain", "rack", "warm")
"""What may be done to a drink on a given day; each has its words in the language files, under task, step and
others."""

COLD = "cold"
"""What `cold-days` asks for; it has no days of its own, since it follows the last reading."""

MOST_JOBS, MOST_DAYS = 8, 30

DAYS = Table(
    "days",
    tuple(
        Field(key, "number", help_text, example, required=required)
        for key, help_text, example, required in (
            ("test-1-earliest", "the first day for a test that counts", "7", True),
            ("test-1", "the usual day of the first test", "11", True),
            ("test-2-gap", "days from the first test to the second", "3", True),
            ("bottle-earliest", "the first day for bottling", "10", True),
            ("bottle", "the usual day of bottling", "14", True),
            ("bottle-latest", "the last day without worry", "28", True),
            ("ferment-over", "the day from which it only clears, and warmth changes no wait", "42", False),
            ("hops-earliest", "the first day for dry hops", "4", False),
            ("hops-before-test-1", "days from dry hops to the first counted test", "3", False),
            ("hops-before-bottling", "days that dry hops usually stay in", "6", False),
        )
    ),
)

GATE = Table(
    "gate",
    (
        Field("gap", "gap-days", "days between two readings that are compared", "7"),
        Field("low", "gravity", "the lowest reading that is usual", "0.985"),
        Field("high", "gravity", "the highest reading with which it may be bottled", "1.000"),
    ),
)

JOB = Table(
    "job",
    (
        Field("do", "choice", "what is done", "rack", required=True, choices=WORK),
        Field("days", "day-number", "its usual days, one job on each", "[28, 70]", required=True, many=True,
              commas=True, most=MOST_DAYS),
        Field("minutes", "minutes", "how long it takes", "30 min", default=10.0),
        Field("wakes", "yes-no", "whether it wakes the yeast: no reading counts for three days", "yes",
              default=False),
        Field("loses", "percent", "the share of the batch that stays behind", "3 %", default=0.0),
        Field("quick", "yes-no", "whether it needs only somebody at home, on any day", "yes", default=False),
        Field("paced", "yes-no", "whether cold and strength put it off", "yes", default=False),
        Field("apart", "day-number", "least days between one and the next", "28"),
        Field("may-wait", "day-number", "how many days later is still no harm", "21"),
        Field("rest", "day-number", "least days from the last of them to bottling", "14"),
        Field("below", "celsius", "it is only done in a room that is cooler than this", "18 C"),
        Field("to", "celsius-range", "how warm it stands then, for the job warm", "18-20 C"),
    ),
    named_by="do",
)

SMELLS = ("sulphur", "butter", "apples", "vinegar", "solvent")
"""What the trouble card has a sentence for."""

DRINK = Table(
    "drink",
    (
        Field("drink", "name", "its name, as the file", "ale", required=True),
        Field("primed", "yes-no", "whether sugar makes gas in the bottle", "yes", required=True),
        Field("ferments-out", "yes-no", "whether its sugar can ferment out completely", "no", required=True),
        Field("target", "volumes", "the usual gas; left out for a still drink", "2.4 volumes", default=0.0),
        Field("pitch", "celsius-range", "the temperature at which yeast goes in", "17-21 C", required=True),
        Field("vessel-full", "percent", "how full the vessel may be", "80 %", required=True),
        Field("days", "table", "its days at 20 to 22 C", "{test-1-earliest: 7, test-1: 11, test-2-gap: 3, "
              "bottle-earliest: 10, bottle: 14, bottle-latest: 28}", required=True, table=DAYS),
        Field("gate", "table", "its gate, where the ingredients do not say enough", "{gap: 7}", table=GATE),
        Field("gravity", "gravity-range", "what is usual before the yeast goes in", "1.035-1.060"),
        Field("wait", "day-number", "least days from filling to the first glass", "30"),
        Field("jobs", "table", "work on given days that is no ingredient", "[{do: rack, days: 28}]",
              many=True, most=MOST_JOBS, table=JOB),
        Field("cold-days", "cold-days", "days in the cold between the last reading and bottling", "2",
              default=0),
        Field("keeping", "choice", "how it keeps", "pale-and-amber", required=True, choices=keepings),
        Field("cautions", "name", "cautions of its own, by id", "[raw-juice]", many=True, default=()),
        Field("smells", "choice", "what it may smell of while it works", "[sulphur, butter]", many=True,
              default=("sulphur", "vinegar"), choices=SMELLS),
        Field("source", "text", "where these figures come from", "common practice, no source", required=True),
        Field("format", "choice", "the version of this kind of file", "1", choices=("1",), default="1"),
    ),
    named_by="drink",
)
