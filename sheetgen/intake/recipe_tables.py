"""The keys of a recipe file.

Comes in: nothing.  Goes out: `RECIPE`, and `ALLERGENS`.
"""

from __future__ import annotations

from pathlib import Path

from sheetgen import catalogue
from sheetgen.intake.fields import Field, Table

# fmt: off
ALLERGENS = {
    "barley": 1, "wheat": 1, "rye": 1, "oats": 1, "crustaceans": 2, "eggs": 3, "fish": 4, "peanuts": 5,
    "soya": 6, "milk": 7, "nuts": 8, "celery": 9, "mustard": 10, "sesame": 11, "sulphites": 12,
    "lupin": 13, "molluscs": 14,
}
"""What must be declared, and the group of Regulation (EU) 1169/2011, Annex II, that it stands in; the
cereals of group 1 are named one by one, as that regulation asks.
"""


def drinks(beside: Path | None = None) -> tuple[str, ...]:
    """The drinks that there is a data file for."""
    return catalogue.names("recipes/drinks", beside)


def keepings(beside: Path | None = None) -> tuple[str, ...]:
    """The classes of keeping, by name."""
    from sheetgen.intake import pantry

    return tuple(pantry.keepings(beside))


INGREDIENT = Table(
    "ingredient",
    (
        Field("what", "text", "its name in the pantry", "liquid malt extract", required=True),
        Field("amount", "text", "how much, for the volume of the recipe", "1.5 kg", required=True,
              form="amount"),
        Field("when", "moment", "when it goes in", "into the pot", required=True),
        Field("pack", "node", "how much is in one pack as sold; several sizes as a list", "1.5 kg",
              form="sizes", usual="not known: by weight"),
        Field("called", "text", "what the paper calls it, if not as in the pantry", "amber malt extract"),
        Field("alpha", "alpha", "alpha acid of hops, as printed on the pack", "5.5 %"),
        Field("colour", "colour", "colour in degrees Lovibond", "10"),
        Field("allergens", "choice", "what must be declared, where the pantry does not know", "barley",
              many=True,
              commas=True, choices=("none", *ALLERGENS)),
    ),
    named_by="what",
)

YEAST = Table(
    "yeast",
    (
        Field("what", "text", "what to ask for in the shop", "dry ale yeast", required=True),
        Field("pack", "sachet", "what is in one sachet", "11 g", required=True),
        Field("range", "yeast-range", "the temperatures it works in, as printed on the sachet", "16-24 C",
              required=True),
        Field("kind", "choice", "what it is made for: ale, or wine where all sugar can ferment", "ale",
              choices=("ale", "lager", "wine")),
        Field("attenuation", "yeast-attenuation", "the share of malt sugar it ferments, as the sachet says",
              "72-78 %"),
    ),
    named_by="what",
)

RECIPE = Table(
    "recipe",
    (
        Field("recipe-name", "text", "the name on every page", "Copper Lane Amber", required=True),
        Field("drink", "choice", "the kind of drink", "ale", required=True, choices=drinks),
        Field("volume", "recipe-volume", "the litres in the fermenter that it is written for", "10 L",
              required=True),
        Field("about", "text", "two lines about it", "Amber, gently bitter, quick to make.", default=""),
        Field("ingredients", "table", "what goes in", "[{what: hops, amount: 15 g, when: dry hop}]",
              required=True, many=True, most=200, table=INGREDIENT),
        Field("yeast", "table", "the yeast", "{what: dry ale yeast, pack: 11 g, range: 16-24 C}",
              required=True,
              table=YEAST),
        Field("boil", "minutes", "how long the pot boils; left out when nothing is boiled", "30 min"),
        Field("carbonation", "volumes", "how much gas, if not what is usual for the drink", "2.3 volumes"),
        Field("keeping", "choice", "how it keeps, if not as is usual for the drink", "hop-forward",
              choices=keepings),
        Field("format", "choice", "the version of this kind of file", "1", choices=("1",), default="1"),
    ),
    named_by="recipe-name",
    not_offered={
        "extends": "a recipe that extends another is not offered yet: write the whole recipe",
        "notes": "notes are not offered yet: write about:",
        "attenuation": "the finish is worked out from the ingredients; what a yeast states goes under yeast:",
    },
)
