"""Public holidays by country: those of a year, and whether there is such a country.

The library of holidays loads all countries to know one of them, which takes longer than all else of checking a file. So
the codes are looked up in ``holiday-codes.json``, which that library made (``tests/holiday_codes.py``), and it is asked
only for days, and for what is not in there. For days an empty package stands in for that of the countries: then the one
that is asked for loads, and those that it rests on.
"""

from __future__ import annotations

import json
import re
from collections.abc import Collection
from datetime import date
from functools import cache
from pathlib import Path

from finplan.problems import did_you_mean
from finplan.reading import fail
from finplan.stand_in import standing_in

_COUNTRY = re.compile(r"[A-Z]{2,3}")
_EXPECTED = "expected an ISO 3166 code such as GB or GB-SCT"


def holidays_of(value: object) -> str:
    """Return the code of a country, or of a part of one that has holidays of its own, as a file gives it.

    Raises
    ------
    PydanticCustomError
        There is none.
    """
    if not isinstance(value, str):
        fail("this is not a country", _EXPECTED)
    country, _, subdivision = value.partition("-")
    known: Collection[str] | None = _codes().get(country)
    if known is None or (subdivision and subdivision not in known):
        known = _subdivisions(country)
    if known is None:
        fail(f"country '{value[:20]}' is unknown", _EXPECTED)
    if subdivision and subdivision not in known:
        fail(
            f"'{country}' has no subdivision '{subdivision[:20]}' with holidays of its own",
            did_you_mean(subdivision, known),
        )
    return value


@cache
def public_holidays(code: str, year: int) -> Collection[date]:
    """Return the public holidays of a year, by such a code."""
    import holidays

    country, _, subdivision = code.partition("-")
    places = [str(Path(folder) / "countries") for folder in holidays.__path__]
    with standing_in("holidays.countries", __path__=places):
        return frozenset(holidays.country_holidays(country, subdiv=subdivision or None, years=year))


@cache
def _codes() -> dict[str, list[str]]:
    """Return the parts of every country, by its code of two letters."""
    codes: dict[str, list[str]] = json.loads(Path(__file__).with_name("holiday-codes.json").read_text(encoding="utf-8"))
    return codes


def _subdivisions(country: str) -> Collection[str] | None:
    """Return the parts of a country as the library has them; None where there is no such country."""
    import holidays

    try:
        of_country = holidays.country_holidays(country) if _COUNTRY.fullmatch(country) else None
    except (NotImplementedError, TypeError):  # TypeError: what the library has of that name is no country but a month
        return None
    return None if of_country is None or not getattr(of_country, "country", None) else of_country.subdivisions
