"""What may be breathed of each solvent, against the pages and lists of the bodies that set the limits. [ppm]

- NIOSH Pocket Guide (OSHA's and NIOSH's limits) of ethanol, isopropanol, toluene and turpentine; NIOSH documentation of
  1994 of butyl acetate, xylene, butoxyethanol and dipropylene glycol methyl ether; OSHA sampling pages of acetone and
  of Stoddard solvent; copies of a database for naphtha: as read. Where a row says so, recalled.
- ACGIH: the notice of 2007 (toluene), an open data set of 2024 (acetone), as read; the rest against Ontario's limits,
  which follow ACGIH's but for those of another year, of the table that ``tests/published/solvents.py`` keeps.
"""

from __future__ import annotations

import pytest

from finplan.catalogue import bundled_catalogue
from tests.published.solvents import published

SOLVENTS = bundled_catalogue().solvents
PUBLISHED = published()

PAGES = [  # solvent, OSHA 8 h, NIOSH, NIOSH short
    ("ethanol", 1000, 1000, None, "NIOSH Pocket Guide"),
    ("isopropanol", 400, 400, 500, "NIOSH Pocket Guide"),
    ("toluene", 200, 100, 150, "NIOSH Pocket Guide"),
    ("turpentine", 100, 100, None, "NIOSH Pocket Guide"),
    ("xylene", 100, 100, 150, "NIOSH 1994"),
    ("butyl-acetate", 150, 150, 200, "NIOSH 1994"),
    ("butoxyethanol", 50, 5, None, "NIOSH 1994"),
    ("dipropylene-glycol-methyl-ether", 100, 100, 150, "NIOSH 1994"),
    ("acetone", 1000, 250, None, "OSHA sampling page"),
    ("white-spirit", 500, None, None, "OSHA sampling page"),
    ("methanol", 200, 200, 250, "recalled"),
    ("butanone", 200, 200, 300, "recalled"),
    ("ethyl-acetate", 400, 400, None, "recalled"),
    ("butanol", 100, None, 50, "recalled: NIOSH sets a ceiling"),
    ("methoxypropanol", None, 100, 150, "recalled"),
    ("dichloromethane", 25, None, None, "recalled: 29 CFR 1910.1052"),
]


@pytest.mark.parametrize(("name", "osha", "niosh", "niosh_short", "source"), PAGES)
def test_osha_and_niosh(
    name: str, osha: float | None, niosh: float | None, niosh_short: float | None, source: str
) -> None:
    limits = SOLVENTS[name].limits
    assert limits is not None
    assert (limits.osha_ppm, limits.niosh_ppm, limits.niosh_short_ppm) == (osha, niosh, niosh_short), source


@pytest.mark.parametrize("name", ["white-spirit", "naphtha"])
def test_petroleum_by_mass(name: str) -> None:
    # OSHA sampling page and a database copy, as read: NIOSH 350 mg/m³, at most 1800 for a quarter of an hour.
    limits = SOLVENTS[name].limits
    assert limits is not None
    assert (limits.niosh_mass_mg_m3, limits.niosh_short_mass_mg_m3) == (350, 1800)


def ontario_ppm(cas: str) -> tuple[float | None, float | None]:
    """Return the limits of a day and of a quarter of an hour, where they are in ppm."""
    return PUBLISHED[cas].get("ontario_day_ppm"), PUBLISHED[cas].get("ontario_short_ppm")


DATED_OTHERWISE: dict[str, tuple[float | None, float | None]] = {
    "acetone": (250, None),  # the data set of 2024
    "butyl-acetate": (50, 150),  # a database copy
    "xylene": (20, None),  # of 2021, recalled
    "methoxypropanol": (50, 100),  # of 2013, recalled
    "lacquer-thinner": (20, None),  # of its toluene
}


@pytest.mark.parametrize("name", [name for name, one in SOLVENTS.items() if one.limits])
def test_acgih(name: str) -> None:
    limits = SOLVENTS[name].limits
    assert limits is not None
    day, short = DATED_OTHERWISE.get(name) or ontario_ppm(SOLVENTS[name].cas[0])
    if limits.acgih_ppm is not None:
        assert limits.acgih_ppm == day
    if limits.acgih_short_ppm is not None:
        assert limits.acgih_short_ppm == short
