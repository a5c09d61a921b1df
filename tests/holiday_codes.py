"""The countries whose holidays are known, as the library of holidays has them: ``finplan/inputs/holiday-codes.json``.

Run as a program, it writes the file; a test holds the file to the library.
"""

from __future__ import annotations

import json

import holidays

from tests.readme import ROOT

FILE = ROOT / "finplan" / "inputs" / "holiday-codes.json"


def written() -> str:
    """Return the file as the library makes it: a line for each country, with its parts."""
    countries = sorted(holidays.list_supported_countries(include_aliases=False).items())
    lines = ",\n".join(f'  "{country}": {json.dumps(list(parts))}' for country, parts in countries)
    return f"{{\n{lines}\n}}\n"


if __name__ == "__main__":
    FILE.write_text(written(), encoding="utf-8")
