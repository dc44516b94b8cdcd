"""What people write for a word that is known here by another: suggested, never taken in its place.

Comes in: nothing.  Goes out: `OTHER_WORDS` by key, `OTHER_KEYS`, and `word_meant`.  Only what can mean one
thing alone stands here.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType


def _by_word(**meant: str) -> Mapping[str, str]:
    """Words by what they mean, from lists with commas by the meaning ("_" for a space or hyphen)."""
    return MappingProxyType(
        {word.strip(): name.replace("_", " ") for name, words in meant.items() for word in words.split(",")}
    )


_CLEANING = _by_word(
    household_bleach="bleach, chlorine bleach, chlorine, thin bleach, unscented bleach, sodium hypochlorite",
    iodine_type="iodine, iodophor, iodine sanitiser, iodine sanitizer",
    no_rinse_acid="acid, phosphoric acid, acid sanitiser, acid sanitizer, no rinse, no rinse sanitiser, "
    "no rinse sanitizer",
    percarbonate_cleaner="percarbonate, sodium percarbonate, oxygen cleaner, oxygen bleach, washing soda",
    sulphite="sulfite, metabisulphite, metabisulfite, potassium metabisulphite, sodium metabisulphite",
    washing_up_liquid="soap, detergent, dish liquid, washing up, dishwasher liquid",
)

OTHER_WORDS: Mapping[str, Mapping[str, str]] = MappingProxyType(
    {
        "sugar": _by_word(
            dextrose="corn sugar, glucose, brewing sugar, priming sugar, grape sugar, dextrose monohydrate, "
            "glucose monohydrate",
            dextrose_anhydrous="anhydrous dextrose, glucose anhydrous, anhydrous glucose",
            table_sugar="sugar, white sugar, cane sugar, beet sugar, granulated sugar, caster sugar, "
            "sucrose, household sugar, sugar cubes, cubes",
            brown_sugar="demerara, muscovado, raw sugar, cassonade",
            dry_malt_extract="dme, dried malt extract, spray malt, malt extract, malt",
        ),
        "dosing": _by_word(
            teaspoons="teaspoon, tsp, spoon, spoons, by spoon, level teaspoons",
            weight="scales, grams, by weight, weigh, weighed, weighing",
            in_bulk="bulk, batch, batch priming, bulk priming, whole batch, bottling vessel",
            pieces="piece, cubes, cube, sugar cubes, lumps, tablets, drops",
            syrup="syringe, liquid, sugar syrup, sugar solution, solution",
        ),
        "cleaner": _CLEANING,
        "sanitiser": _CLEANING,
        "made-of": _by_word(
            steel="stainless steel, stainless, inox, metal",
            plastic="hdpe, pp, polypropylene, polyethylene, food grade plastic, pet",
            glass="carboy, glass carboy, demijohn, glass demijohn",
        ),
        "not-on": _by_word(steel="stainless steel, stainless, metal", plastic="pet, hdpe", glass="carboy"),
        "fill": _by_word(
            in_order="order, by order, as listed, listed",
            least_over="least, least left, best, optimal, minimum",
        ),
        "paper": _by_word(A4="din a4, iso a4, a4 paper", Letter="us letter, letter size, ansi a, 8.5 x 11"),
        "language": MappingProxyType(
            dict.fromkeys(("english", "en", "british", "british english", "en-uk", "uk"), "en-GB")
            | dict.fromkeys(("american", "american english", "us english", "us"), "en-US")
        ),
        "units": _by_word(
            metric="si, metric units, litres, liters, european",
            us="american, usa, us customary",
            uk="imperial, british",
        ),
        "whole-packs": _by_word(
            exact="no, none, by weight",
            volume_follows="volume, more volume",
            strength_follows="strength, stronger",
        ),
        "what": _by_word(
            degas="degassed, degassing, gas out",
            stir="stirred, stirring, punch down",
            strain="strained, straining, press, pressed, sieve",
            rack="racked, racking, transfer, transferred, siphoned",
        ),
        "gas": _by_word(
            flat="none, still, no gas",
            little="low, weak, some",
            right="good, fine, normal",
            lively="high, too much, gushing",
        ),
        "seen": _by_word(skin="pellicle, film, white skin, white film"),
        "drink": _by_word(
            ale="beer, pale ale, amber ale, bitter, ipa, pale, amber, brown ale",
            wheat="wheat beer, weizen, witbier, weissbier",
            stout="porter, milk stout, dry stout",
            lager="pils, pilsner, pilsener",
            strong="barley wine, winter ale, strong ale",
            mild="dark mild",
            cider="cyder, apple wine, hard cider",
            ginger_beer="ginger ale",
            mead="honey wine, sparkling mead",
            country_wine="wine, fruit wine, berry wine",
        ),
        "kind": _by_word(
            ale="beer, ale yeast, top fermenting, top",
            lager="lager yeast, bottom fermenting, bottom",
            wine="wine yeast, champagne, cider, mead",
        ),
        "allergens": _by_word(
            barley="malt, barley malt",
            milk="lactose, dairy",
            sulphites="sulphite, sulfite, sulfites",
            soya="soy, soybean",
            fish="isinglass",
            none="no, nothing",
        ),
        "how": _by_word(cold="fridge, refrigerator", frozen="freezer", dry="cupboard, airtight"),
    }
)
"""By key: the words, in small letters with single spaces, and what each of them means here."""

OTHER_KEYS: Mapping[str, str] = MappingProxyType(
    {
        "fermenter": "vessel", "fermentor": "vessel", "bucket": "vessel", "carboy": "vessel", "kettle": "pot",
        "sanitizer": "sanitiser", "date": "brew-day", "day": "brew-day", "temperature": "room",
        "priming-sugar": "sugar", "priming": "sugar", "co2": "carbonation", "fizz": "carbonation",
        "absent": "away", "absence": "away", "vacation": "away", "elevation": "altitude", "code": "batch",
        "original-gravity": "og", "gear": "equipment", "size": "volume", "amounts": "units",
    }
)  # fmt: skip
"""Keys as others call them, and ours."""

KEYS_INSIDE: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "date": ("on",), "day": ("on", "date"), "on": ("date",), "gravity": ("sg",),
        "reading": ("readings", "sg"),
        "warmest": ("warmest-since",), "name": ("recipe-name",), "ready": ("ready-by",), "round": ("turns",),
        "shifts": ("turns",), "drinks": ("drinks-each",),
    }
)  # fmt: skip
"""The same for what only some parts of a file have: the first that is a key there."""


def _plain(word: str) -> str:
    return " ".join(word.lower().replace("-", " ").replace("_", " ").split())


def word_meant(key: str, word: str, allowed: Sequence[str]) -> str:
    """The allowed word that another one stands for at this key; "" if it is not known to stand for any."""
    by_word = {_plain(other): _plain(name) for other, name in OTHER_WORDS.get(key, {}).items()}
    meant = by_word.get(_plain(word[:60]), "")
    return next((one for one in allowed if meant and _plain(one) == meant), "")
