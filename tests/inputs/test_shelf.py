"""The shelf of the shop file: what is left of what."""

from __future__ import annotations

from pathlib import Path

import pytest

from finplan.catalogue import Amount, bundled_catalogue
from finplan.inputs import Shop
from finplan.problems import RefusedError
from tests.inputs.shops import load_shop

CATALOGUE = bundled_catalogue()

SHELF = """\
shop: Heron Yard
shelf:
  - {finish: hardwax-oil, left: 400 ml, opened: 2026-09-01}
  - {finish: shellac, left: 200 g}
  - {finish: polyurethane-2k, component: lacquer, left: 1 US quart}
  - {solvent: white-spirit, left: 500 ml}
  - {abrasive: sheet, grit: P120, left: 7}
  - {consumable: nitrile-gloves, left: 20}
"""


def read(folder: Path, text: str) -> Shop:
    file = folder / "shop.yaml"
    file.write_text(text, encoding="utf-8")
    return load_shop(file, CATALOGUE).shop


def test_the_example(tmp_path: Path) -> None:
    oil, shellac, lacquer, spirit, sheets, gloves = read(tmp_path, SHELF).shelf
    assert (oil.left, str(oil.opened)) == (Amount(400.0, "ml"), "2026-09-01")
    assert shellac.left == Amount(200.0, "g")
    assert lacquer.named == ("finish", "finishes", "polyurethane-2k")
    assert spirit.named == ("solvent", "solvents", "white-spirit")
    assert (sheets.left, sheets.grit) == (7, "P120")
    assert gloves.left == 20


def test_no_shelf_is_an_empty_one(tmp_path: Path) -> None:
    assert read(tmp_path, "shop: Heron Yard\n").shelf == ()


@pytest.mark.parametrize(
    ("item", "words"),
    [
        ("{finish: hardwx-oil, left: 1 l}", "did you mean 'hardwax-oil'?"),
        ("{solvent: white-spirits, left: 1 l}", "did you mean 'white-spirit'?"),
        ("{abrasive: sheets, grit: P120, left: 7}", "did you mean 'sheet'?"),
        ("{left: 1 l}", "it does not say what it is"),
        ("{finish: hardwax-oil, solvent: white-spirit, left: 1 l}", "both finish and solvent"),
        ("{finish: hardwax-oil, left: 3}", "expected an amount: 400 ml, 200 g"),
        ("{finish: hardwax-oil, left: 3 mm}", "expected a volume such as 250 ml, or a mass such as 500 g"),
        ("{finish: hardwax-oil, left: 0 ml}", "too small"),
        ("{finish: hardwax-oil}", "field 'left' is missing"),
        ("{abrasive: sheet, grit: P120, left: 1 l}", "expected a number of pieces: 7"),
        ("{abrasive: sheet, left: 7}", "expected grit: P120 of an abrasive"),
        ("{abrasive: sheet, grit: 120 grit, left: 7}", "is not a grade"),
        ("{consumable: nitrile-gloves, left: 2.5}", "is not what is left"),
        ("{consumable: nitrile-gloves, left: -2}", "is not what is left"),
        ("{finish: polyurethane-2k, left: 1 l}", "component: lacquer or isocyanate hardener"),
        ("{finish: polyurethane-2k, component: laquer, left: 1 l}", "did you mean 'lacquer'?"),
        ("{finish: hardwax-oil, component: oil, left: 1 l}", "is no component of"),
        ("{solvent: white-spirit, component: oil, left: 1 l}", "'component' belongs to a finish"),
        ("{finish: hardwax-oil, left: 1 l, opened: soon}", "is not a date"),
        ("{finish: hardwax-oil, left: 1 l, since: 2026-09-01}", "field 'since' is unknown"),
        ("hardwax-oil", "stands where a group of fields belongs"),
    ],
)
def test_what_is_wrong_is_told_with_its_line(item: str, words: str, tmp_path: Path) -> None:
    with pytest.raises(RefusedError) as refused:
        read(tmp_path, f"shop: Heron Yard\nshelf:\n  - {item}\n")
    (problem,) = refused.value.problems
    assert words in str(problem)
    assert problem.line == 3


def test_components_that_the_shop_names_otherwise(tmp_path: Path) -> None:
    mix = "{components: [{name: part A, parts: 2}, {name: part B, parts: 1}], pot-life: 2 h}"
    shop = read(
        tmp_path,
        "shop: Heron Yard\nshelf: [{finish: polyurethane-2k, component: part A, left: 1 l}]\n"
        f"overrides: {{finishes: {{polyurethane-2k: {{mix: {mix}}}}}}}\n",
    )
    assert shop.shelf[0].component == "part A"


def test_a_finish_of_the_shops_own(tmp_path: Path) -> None:
    (tmp_path / "ours").mkdir()
    (tmp_path / "ours" / "finishes.yaml").write_text("our-oil: {like: hardwax-oil, title: Our oil}\n", encoding="utf-8")
    shop = read(tmp_path, "shop: Heron Yard\nrecords: ours\nshelf: [{finish: our-oil, left: 1 l}]\n")
    assert shop.shelf[0].finish == "our-oil"
