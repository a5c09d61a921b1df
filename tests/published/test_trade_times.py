"""Times of finishes against what trade articles, an army manual and a handbook print for their kind.

- Trade articles and finishers' notes on single types of finish, as read, often copied from labels: weak, not ours.
- Of these by name, each as stored, as read: Woodworker's Journal, "Finish Shelf Life, and How to Extend It"; a forum of
  finishers on plaques that stick together (nitrocellulose, pre-catalysed lacquer); sites on house and home on how long
  stain dries before a topcoat, on waiting between coats of dye, on primer of shellac (two) and, in German, on hardwax
  oil; a joiner's shop on treating wood with soap.
- US Army TM 43-0139, paragraph 2-23 (shellac), as read; Wood Handbook, FPL-GTR-190 (2010), page 16-23, as read; US Navy
  NAVEDTRA 14044 (paste filler), as read; Griffith, Woodwork for Beginners, about 1916 (wax), as read.

A typical value of ours lies within what is printed, give or take a quarter of it; where printed figures are close
together or several, it lies about their middle, the root of their product, so that a factor of two either way is
noticed. What is printed of a kind holds for its relatives of the same chemistry, which is said beside them. Rows that
say practice are common trade practice, from memory.
"""

from __future__ import annotations

import pytest

from finplan.catalogue import bundled_catalogue
from finplan.quantity import Range

CATALOGUE = bundled_catalogue()
MIN, DAY = 1 / 60, 24.0
MONTH = 365.25 / 12 * DAY
ABOUT = 1.25
MIDDLE = 1.42
"""How far ours may be from the middle of what is printed: the root of two, and no more than rounding beside it."""

PRINTED = [  # finish, field, from, to (h), source
    ("hardwax-oil", "cure_h", 7 * DAY, 14 * DAY, "articles: about a week, two at the longest"),
    ("tung-oil", "recoat_h", 24, 48, "articles"),
    ("tung-oil", "cure_h", 30 * DAY, 30 * DAY, "articles"),
    ("tung-oil", "wipe_off_h", 10 * MIN, 30 * MIN, "articles: left for 10 to 30 min"),
    ("boiled-linseed-oil", "cure_h", 14 * DAY, 30 * DAY, "articles on its relative, tung oil: as long or less"),
    ("oil-varnish-blend", "cure_h", 14 * DAY, 30 * DAY, "articles on its relative, oil polyurethane: as long or less"),
    ("oil-polyurethane", "recoat_limit_h", 24, 24, "articles: abraded after 24 h"),
    ("oil-polyurethane", "cure_h", 30 * DAY, 30 * DAY, "articles"),
    ("oil-varnish", "cure_h", 14 * DAY, 30 * DAY, "articles on its relative, oil polyurethane: as long or less"),
    ("waterborne-polyurethane", "light_use_h", 24, 24, "articles"),
    ("polyurethane-2k-waterborne", "cure_h", 3 * DAY, 7 * DAY, "articles"),
    ("polyurethane-2k", "recoat_limit_h", 24, 24, "one product: no sanding up to 24 h"),
    ("polyurethane-2k-waterborne", "recoat_limit_h", 24, 24, "as the solvent-borne one: the same hardener"),
    ("waterborne-polyurethane", "recoat_limit_h", 24, 24, "articles"),
    ("water-grain-filler", "touch_dry_h", 5 * MIN, 20 * MIN, "as the oil one: wiped when it hazes"),
    ("water-grain-filler", "wipe_off_h", 5 * MIN, 20 * MIN, "as the oil one"),
    ("shellac", "handle_h", 1, 1, "TM 43-0139, 2-23"),
    ("shellac", "light_use_h", 24, 24, "TM 43-0139, 2-23: hard in 24 h"),
    ("acrylic-primer", "cure_h", 2 * DAY, 7 * DAY, "Wood Handbook 16-23: top coat after 24 to 48 h, cured later"),
]
MIDDLES = [  # likewise
    ("hardwax-oil", "touch_dry_h", 6, 12, "the site on hardwax oil: dust-dry in 6 to 12 h"),
    ("hardwax-oil", "recoat_h", 8, 24, "the site on hardwax oil: 8 to 10 h, or 24 h"),
    ("hardwax-oil", "light_use_h", 1 * DAY, 2 * DAY, "the site on hardwax oil: after 24 h to 2 days"),
    ("hardwax-oil-2k", "wipe_off_h", 5 * MIN, 20 * MIN, "practice: worked in, left, buffed"),
    ("hardwax-oil-2k", "recoat_limit_h", 1 * DAY, 2 * DAY, "practice: a patch is evened out the next day"),
    ("tung-oil", "touch_dry_h", 24, 48, "articles: dry between coats in 24 to 48 h"),
    ("boiled-linseed-oil", "touch_dry_h", 12, 24, "practice: with driers overnight, a day at the longest"),
    ("boiled-linseed-oil", "recoat_h", 24, 48, "articles"),
    ("boiled-linseed-oil", "wipe_off_h", 20 * MIN, 30 * MIN, "articles: left for about 30 min"),
    ("oil-varnish-blend", "recoat_h", 8, 24, "as the oil stain: oil and a little resin in the same solvent"),
    ("oil-polyurethane", "touch_dry_h", 2, 3, "articles"),
    ("oil-polyurethane", "recoat_h", 4, 12, "articles: 4 to 6 h, or overnight"),
    ("waterborne-polyurethane", "recoat_h", 2, 3, "articles"),
    ("waterborne-polyurethane", "cure_h", 4 * DAY, 7 * DAY, "articles"),
    ("polyurethane-2k-waterborne", "recoat_h", 2, 3, "articles on its relative with one part"),
    ("pre-catalysed-lacquer", "handle_h", 4, 4, "the forum: can be stacked after four hours"),
    ("nitrocellulose-lacquer", "handle_h", 2, 3, "practice: between recoating and stacking of the pre-catalysed one"),
    ("paste-wax", "wipe_off_h", 10 * MIN, 15 * MIN, "Griffith: rubbed up after 10 to 15 min"),
    ("paste-wax", "handle_h", 1, 1, "Griffith: another coat after an hour"),
    ("soap-flakes", "wipe_off_h", 10 * MIN, 10 * MIN, "the joiner's shop: after about 10 minutes"),
    ("casein-paint", "recoat_h", 1, 2, "articles"),
    ("acrylic-enamel", "cure_h", 14 * DAY, 28 * DAY, "practice: painted faces stick for 2 to 4 weeks"),
    ("acrylic-primer", "recoat_limit_h", 14 * DAY, 30 * DAY, "practice: the top coat within two to four weeks"),
    ("shellac-primer", "touch_dry_h", 15 * MIN, 25 * MIN, "a site on primer of shellac: 15 to 25 minutes"),
    ("shellac-primer", "recoat_h", 45 * MIN, 1, "another: often within 45 minutes, in under an hour"),
    ("shellac-primer", "cure_h", 2 * DAY, 4 * DAY, "practice: hard enough for a shoe in some days"),
    ("water-dye", "touch_dry_h", 1, 3, "the site on stain: in water touch-dry within one to three hours"),
    ("water-dye", "recoat_h", 4, 24, "the site on dye: 4 to 6 h between coats, 24 h before the finish"),
    ("oil-stain", "recoat_h", 8, 24, "the site on stain: oil-based 8 to 24 hours"),
    (
        "gel-stain",
        "recoat_h",
        24,
        24,
        "the site on stain: gel sometimes 24 hours to the touch, 24 to 72 to the next step",
    ),
    ("oil-grain-filler", "recoat_h", 24, 24, "NAVEDTRA 14044: 24 h"),
    ("oil-grain-filler", "touch_dry_h", 5 * MIN, 20 * MIN, "NAVEDTRA 14044: flat, and wiped, in 5 to 10, or 20 min"),
    ("oil-grain-filler", "wipe_off_h", 5 * MIN, 20 * MIN, "NAVEDTRA 14044 and Griffith"),
    ("oil-grain-filler", "cure_h", 2 * DAY, 7 * DAY, "articles: oil fillers 2 to 7 days"),
    ("water-grain-filler", "cure_h", 1 * DAY, 1 * DAY, "practice: sanded the same day, hard the next"),
    (
        "shellac",
        "shelf_life_h",
        3 * MONTH,
        12 * MONTH,
        "three notes: 3 months, about 6, about a year; the Journal: about six",
    ),
    ("shellac-primer", "shelf_life_h", 6 * MONTH, 12 * MONTH, "practice: as shellac, in closed tins"),
    ("pre-catalysed-lacquer", "shelf_life_h", 1.5 * MONTH, 12 * MONTH, "the Journal: from six weeks to a year"),
]


@pytest.mark.parametrize(("finish", "field", "low_h", "high_h", "source"), PRINTED)
def test_what_is_printed_of_its_kind(finish: str, field: str, low_h: float, high_h: float, source: str) -> None:
    found = getattr(CATALOGUE.finishes[finish], field)
    assert isinstance(found, Range)
    assert low_h / ABOUT <= found.typical <= high_h * ABOUT, source


def test_it_lies_about_the_middle_of_what_is_printed() -> None:
    far = {}
    for finish, field, low_h, high_h, source in MIDDLES:
        found = getattr(CATALOGUE.finishes[finish], field)
        assert isinstance(found, Range)
        times = found.typical / (low_h * high_h) ** 0.5
        if not 1 / MIDDLE <= times <= MIDDLE:
            far[finish, field] = f"{times:.2f} times: {source}"
    assert not far


def test_wax_goes_over_wax_after_an_hour_at_the_soonest() -> None:
    # Griffith: another coat after an hour.
    assert CATALOGUE.finishes["paste-wax"].recoat_h.low == pytest.approx(1, rel=0.2)


def test_no_opened_tin_keeps_longer_than_makers_say_of_closed_ones() -> None:
    # Woodworker's Journal: makers suggest three years for most finishes. Pre-catalysed lacquer at most a year.
    keeps = {name: one.shelf_life_h for name, one in CATALOGUE.finishes.items() if one.shelf_life_h is not None}
    assert not {name: shelf.high / MONTH for name, shelf in keeps.items() if shelf.high > 36.5 * MONTH}
    assert keeps["pre-catalysed-lacquer"].high == pytest.approx(12 * MONTH, rel=0.05)


@pytest.mark.parametrize("name", list(CATALOGUE.finishes))
def test_it_is_put_on_in_air_in_which_people_work(name: str) -> None:
    # Articles: oil polyurethane is poor below 10 and above 32 °C and outside 30 to 90 % humidity. TM 43-0139: no paint
    # below 10 °C; a paint shop has 24 to 27 °C and 45 to 50 %. Only shellac primer is sold for frost.
    apply = CATALOGUE.finishes[name].apply
    assert apply.temperature_c.high <= 35
    assert apply.temperature_c.low >= 7 or name == "shellac-primer"
    assert apply.humidity_pct.high <= 100
    assert apply.temperature_c.holds(24)
    assert apply.temperature_c.holds(27)
    assert apply.humidity_pct.holds(50)
    # Wax and soap, which build no film, mind no air at all.
    assert (apply.humidity_pct.high == 100) == (CATALOGUE.finishes[name].family in ("wax", "soap"))


@pytest.mark.parametrize(
    ("finish", "low", "high", "source"),
    [
        ("hardwax-oil-2k", 2.5, 4, "makers' sheets from 2.5:1 to 4:1, practice"),
        ("catalysed-lacquer", 8, 12, "articles: catalyst 1:10"),
        ("polyurethane-2k", 3, 5, "articles: one 4:1:1 with its thinner; another 8:1"),
        ("polyurethane-2k-waterborne", 8, 12, "10:1, practice"),
    ],
)
def test_how_much_hardener_it_takes(finish: str, low: float, high: float, source: str) -> None:
    mix = CATALOGUE.finishes[finish].mix
    assert mix is not None
    base, hardener = mix.components[:2]
    assert low <= base.parts / hardener.parts <= high, source


@pytest.mark.parametrize(
    ("finish", "low_h", "high_h", "source"),
    [
        ("catalysed-lacquer", 8, 24, "articles: work life about 8 h; a day, practice"),
        ("polyurethane-2k", 2, 6, "practice"),
        ("polyurethane-2k-waterborne", 2, 4, "practice"),
        ("hardwax-oil-2k", 2, 6, "practice"),
    ],
)
def test_how_long_what_is_mixed_can_be_used(finish: str, low_h: float, high_h: float, source: str) -> None:
    mix = CATALOGUE.finishes[finish].mix
    assert mix is not None
    assert low_h <= mix.pot_life_h.typical <= high_h, source
    assert mix.pot_life_h.typical >= CATALOGUE.finishes[finish].touch_dry_h.typical * 0.3, source


def test_a_powder_paint_is_used_within_a_day() -> None:
    # Articles on casein paint: 1:1 to 1:1.5 of powder and water, used within 24 h; not the hour in which it thickens.
    dissolve = CATALOGUE.finishes["casein-paint"].dissolve
    assert dissolve is not None
    assert dissolve.pot_life_h is not None
    assert dissolve.pot_life_h.high == 24
    assert 12 <= dissolve.pot_life_h.typical <= 24


@pytest.mark.parametrize("rule", ["waterborne-over-oil", "waterborne-over-oil-stain", "varnish-over-blend"])
def test_what_waits_for_oil(rule: str) -> None:
    # Articles: waterborne and varnish over oil after 3 to 7 days; over an oil stain after 24 to 72 h, or 3 to 7 days.
    after = CATALOGUE.compatibility[rule].after_h
    assert after is not None
    assert 3 * DAY <= after.typical <= 7 * DAY
    assert 1 * DAY <= after.low <= 3 * DAY
    assert after.high == 7 * DAY
