"""The keys of the tables that recipes and batches stand on: pantry, bottles, sanitisers, keeping.

Comes in: nothing.  Goes out: one `Table` for an entry of each kind of file.
"""

from __future__ import annotations

from sheetgen.intake.fields import Field, Table
from sheetgen.intake.recipe_tables import ALLERGENS

SUGARS = ("table sugar", "dextrose", "dextrose anhydrous", "brown sugar", "honey", "dry malt extract")
"""The sugars that bottles can be primed with."""

# fmt: off
ROLES = (
    "extract", "sugar", "honey", "grain", "juice", "fruit", "hops", "fining", "nutrient", "spice", "acid",
    "water",
)

KEEPS = Table(
    "keeping",
    (
        Field("opened", "days", "how long, from the day it is opened", "14 days", required=True),
        Field("how", "choice", "covered in the fridge, airtight and dry, or in the freezer", "cold",
              required=True, choices=("cold", "dry", "frozen")),
    ),
)

INGREDIENT = Table(
    "pantry",
    (
        Field("role", "choice", "what it is for", "extract", required=True, choices=ROLES),
        Field("points", "number", "litre-degrees of one kilogram", "300", default=0.0),
        Field("points-range", "number-range", "the lowest and highest figure met with", "284-317"),
        Field("attenuation", "percent-range", "the share of those points that ferments", "68-76 %",
              default=(0.0, 0.0)),
        Field("litres-each", "number", "litres of volume that a kilogram adds", "0.71", default=0.0),
        Field("unit", "choice", "what it is measured in", "g", choices=("g", "ml", "piece"), default="g"),
        Field("substance", "choice", "how it takes up heat", "malt syrup",
              choices=("water", "malt syrup", "dry solids"), default="dry solids"),
        Field("allergens", "choice", "what must be declared, or none", "barley", many=True, commas=True,
              choices=("none", "unknown", *ALLERGENS)),
        Field("usual", "text", "the usual dose for a litre of drink, lowest and highest", "0.1-0.3 g"),
        Field("sulphite-mg", "number", "milligrams of sulphur dioxide that a gram or a piece sets free",
              "254", default=0.0),
        Field("keeps", "table", "how long what is left of an opened pack keeps",
              "{opened: 14 days, how: cold}", table=KEEPS),
        Field("also", "text", "other names for it", "[brewing sugar]", many=True),
        Field("source", "text", "where these figures come from", "common practice, no source", required=True),
    ),
)

CONTAINER = Table(
    "bottle kind",
    (
        Field("pressure", "yes-no", "whether it may hold a drink that makes gas in the bottle", "yes",
              required=True),
        Field("warn", "number", "volumes of gas from which a warning is printed", "2.5"),
        Field("refuse", "number", "volumes of gas above which it is refused", "3.0"),
        Field("cap", "choice", "crown caps, corks, or a closure of its own", "crown", required=True,
              choices=("crown", "own", "cork")),
        Field("glass", "yes-no", "whether it is made of glass", "yes", required=True),
        Field("again", "yes-no", "whether a season may count on filling it once more", "yes", default=True),
        Field("also", "text", "other names for it", "[longneck]", many=True),
        Field("source", "text", "where these figures come from", "common practice, no source", required=True),
    ),
)

MATERIALS = ("plastic", "glass", "steel")
FAMILIES = ("acid", "bleach", "iodine", "percarbonate", "sulphite")

SANITISER = Table(
    "sanitiser",
    (
        Field("dose", "text", "how much for a litre of water", "1.5 ml", required=True),
        Field("minutes", "number-range", "contact, shortest and longest", "1-2", required=True),
        Field("rinse", "yes-no", "whether to rinse afterwards", "no", required=True),
        Field("use", "choice", "whether it takes dirt off, or sanitises what is clean", "sanitises",
              choices=("cleans", "sanitises"), default="sanitises"),
        Field("water", "choice", "the water that it is mixed with", "cold", choices=("cold", "warm"),
              default="cold"),
        Field("not-on", "choice", "what it must not touch", "steel", many=True, commas=True,
              choices=MATERIALS),
        Field("family", "choice", "what it is made of, for its caution", "acid", choices=FAMILIES),
        Field("also", "text", "other names for it", "[dish soap]", many=True),
        Field("source", "text", "where these figures come from", "common practice, no source", required=True),
    ),
)

PIECE = Table(
    "piece of sugar",
    (
        Field("grams", "number", "what one piece weighs, in grams", "2.3", required=True),
        Field("sugar", "choice", "the sugar that it is made of", "table sugar", required=True,
              choices=SUGARS),
        Field("source", "text", "where this figure comes from", "common practice, no source", required=True),
    ),
)

KEEPING = Table(
    "keeping",
    (
        Field("from-weeks", "number", "weeks after filling from which it is good", "3", required=True),
        Field("peak-weeks", "number-range", "its best weeks after filling", "4-12", required=True),
        Field("months", "number", "best before, in months after filling", "6", required=True),
        Field("percent", "number", "the strength in % at which beers keep like this", "7"),
        Field("dry-hops", "number", "grams of dry hops a litre with which drinks keep like this", "5"),
        Field("source", "text", "where these figures come from", "common practice, no source", required=True),
    ),
)
