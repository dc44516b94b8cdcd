"""The shopping list of a season: what all batches need, trip by trip.

Comes in: a `SeasonPlan` and `Words`.  Goes out: the view of layouts/documents/shopping.layout.
"""

from __future__ import annotations

from dataclasses import replace

from sheetgen.planning.season_plan import SeasonPlan, Trip
from sheetgen.printing.views.common import View, frozen
from sheetgen.printing.views.shop import line_of
from sheetgen.printing.views.wall import foot
from sheetgen.printing.words import Words
from sheetgen.problems import said

MOST_CODES = 6


def shopping(season: SeasonPlan, words: Words) -> View:
    """What the shopping list shows; days of another year than that of printing say so."""
    words = replace(words, home_year=season.printed.year)
    title = words.say(said("shopping.title", name=season.name))
    return frozen(
        title=title,
        subtitle=words.say("shopping.subtitle"),
        continued=words.say("shopping.continued"),
        foot=foot(season, words, title),
        trips=tuple(_trip(trip, words) for trip in season.shopping),
        nothing="" if season.shopping else words.say("shopping.nothing"),
    )


def _trip(trip: Trip, words: Words) -> View:
    codes = ", ".join(trip.codes[:MOST_CODES])
    more = len(trip.codes) - MOST_CODES
    return frozen(
        title=words.say(said("shopping.trip", on=trip.by, codes=f"{codes} +{more}" if more > 0 else codes)),
        lines=tuple(line_of(line, words, trip.by) for line in trip.lines),
    )
