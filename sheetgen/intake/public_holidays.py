"""Public holidays of a country or a region, from a library that is installed only if they are asked for.

Comes in: a code such as DE or DE-BY (ISO 3166), and the days that a plan is about.  Goes out: days.  This is
the only importer of `holidays`.
"""

from __future__ import annotations

import re
import warnings
from collections.abc import Sequence
from datetime import date
from typing import Any

from sheetgen.intake.forms import Place
from sheetgen.problems import nearest

YEARS_AHEAD = 3
"""A plan's last work with the hands is less than so many years off."""
_SHOWN = 24


def days_of(code: str, about: Sequence[date], place: Place) -> frozenset[date]:
    """Every public holiday from the first of these days to three years after the last; a stop, and none, if
    the code or the library is not known.
    """
    try:
        import holidays
    except ImportError:
        place.stop(
            "public-holidays: needs a library that is not installed here",
            'install it with pip install "sheetgen[holidays]", or write the days after holidays:',
        )
        return frozenset()
    country, _, region = code.partition("-")
    regions = holidays.list_supported_countries(include_aliases=False)
    if country not in regions:
        place.stop(f'no country has the code "{country}"', _other_country(country, regions))
        return frozenset()
    region = next((known for known in regions[country] if known.lower() == region.lower()), region)
    if region and region not in regions[country]:
        place.stop(
            f'{country} has no region "{region}"', _other_region(country, region, regions[country], holidays)
        )
        return frozenset()
    years = range(min(about).year, min(max(about).year + YEARS_AHEAD, 2103) + 1)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return frozenset(holidays.country_holidays(country, subdiv=region or None, years=years))


def _other_country(country: str, known: dict[str, list[str]]) -> str:
    """What to write: the code of the country of that name, else one that looks like it."""
    codes = _countries()
    tidy = re.sub(r"[^a-z]", "", country.lower())
    found = codes.get(tidy) or codes.get(nearest(tidy, codes)) or nearest(country, known)
    found = found if found in known else ""
    return f'did you mean "{found}"?' if found else "write two letters, such as DE, GB or US"


def _countries() -> dict[str, str]:
    """The codes of countries by their English names, in small letters only."""
    from holidays.registry import COUNTRIES

    return {name.replace("_", ""): str(row[1]) for name, row in COUNTRIES.items()}


def _other_region(country: str, region: str, known: list[str], library: Any) -> str:
    """What to write: the region's code by its name, else those that there are."""
    if not known:
        return f"write {country}: the same days are holidays in all of it"
    tidy = region.lower()
    aliases = {
        alias.lower(): code
        for code, names in library.country_holidays(country).get_subdivision_aliases().items()
        for alias in (code, *names)
    }
    found = aliases.get(tidy) or aliases.get(nearest(tidy, aliases), "")
    if found:
        return f'did you mean "{country}-{found}"?'
    some = ", ".join(f"{country}-{code}" for code in known[:_SHOWN])
    return f"write one of: {some}{' …' if len(known) > _SHOWN else ''}"
