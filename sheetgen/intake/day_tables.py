"""The keys that say which days a person has: `my-days` by kind of work, every so manieth week, `shifts`.

Comes in: nothing.  Goes out: tables for `batch_tables` and for `days`, which reads them.
"""

from __future__ import annotations

from sheetgen.intake.fields import Field, Table

# fmt: off
WEEKDAYS = Field("my-days", "weekday", "days of the week", "[sat, sun, wed]", many=True, commas=True)

TURNS = Table(
    "days in turn",
    (
        Field("days", "node", "the days of the week, or any", "[sat, sun]", required=True,
              form="weekdays"),
        Field("every", "weeks", "every so manieth week", "2 weeks", default=1),
        Field("from", "date", "the first of these days", "2027-03-06", required=True),
    ),
)

WORK_DAYS = Table(
    "my-days",
    (
        Field("brewing", "node", "the days on which to brew", "[sat]", form="weekdays"),
        Field("testing", "node", "the days on which to read the hydrometer", "any", form="weekdays"),
        Field("adding", "node", "the days on which hops and other late things go in", "[sat, wed]",
              form="weekdays"),
        Field("racking", "node", "the days on which to strain, or move it to another vessel", "[sat, sun]",
              form="weekdays"),
        Field("bottling", "node", "the days on which to bottle", "[sat, sun]", form="weekdays"),
        Field("looking", "node", "the days on which to look at a bottle, stir or carry; any day at home "
              "without it", "any", form="weekdays"),
    ),
)

SHIFTS = Table(
    "shifts",
    (
        Field("from", "date", "the first day of the round", "2027-03-01", required=True),
        Field("to", "date", "the last day that it holds, if it ends", "2027-08-31"),
        Field("turns", "turn", "what follows what, with its number of days; then it begins again",
              "[early 2, night 2, off 3]", required=True, many=True, commas=True, most=100),
        Field("free", "text", "which of these names are free days; without it: free and off", "[off]",
              many=True, commas=True, most=100),
    ),
    named_by="from",
)
