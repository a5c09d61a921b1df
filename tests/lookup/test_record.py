"""What a person and a program are shown of a record."""

from __future__ import annotations

import json
from typing import Any

import pytest

from finplan.catalogue import Sourced, bundled_catalogue
from finplan.lookup import listing_json, listing_lines, record_json, record_lines
from finplan.lookup.record_lines import WIDTH
from tests.each import each

CATALOGUE = bundled_catalogue()
RECORDS = [
    pytest.param(kind, name, record, id=f"{kind}/{name}")
    for kind, named in CATALOGUE.kinds().items()
    for name, record in named.items()
]


def lines(kind: str, name: str, units: Any = "metric") -> list[str]:
    return record_lines(kind, name, CATALOGUE.kinds()[kind][name], CATALOGUE, units)


@pytest.mark.parametrize(
    ("kind", "name", "units", "expected", "source"),
    [
        ("finishes", "hardwax-oil", "metric", "spread rate, first     22 (15 to 30) m²/L  [practice]", "15/22/30 m2/l"),
        (
            "finishes",
            "hardwax-oil",
            "us",
            "spread rate, first     900 (610 to 1200) ft²/gal",
            "x 40.7458: 896, 611, 1222",
        ),
        ("finishes", "hardwax-oil", "us", "apply, temperature     54 °F to 86 °F", "12 and 30 °C"),
        ("finishes", "hardwax-oil", "metric", "touch dry              9 (6 to 12) h  [finisher-articles]", "6/9/12 h"),
        ("finishes", "polyurethane-2k", "metric", "4 lacquer, 1 isocyanate hardener", "4:1"),
        ("systems", "tung-oil", "metric", "coat tung-oil thinned 50 % by wipe or brush or pad", "the third step"),
        ("systems", "catalysed-lacquer", "metric", "coat catalysed-lacquer 38 (30 to 45) µm dry by", "30/38/45 um"),
        ("finishes", "shellac", "metric", "dissolve, strength", "2 lb/gal"),
        ("solvents", "ethanol", "us", "density", "790 g/l"),
        ("timbers", "white-pine", "metric", "shrinkage, volumetric  8.2 %  [memory]", "its own source"),
        ("grades", "p-grade", "metric", "sizes, P240   58.5 µm  [iso-6344]", "58.5"),
        ("methods", "brush", "metric", "flat          8 (5 to 12) m²/h", "5/8/12 m2/h"),
        ("methods", "brush", "us", "flat          86.1 (53.8 to 129) ft²/h", "x 10.7639: 86.11, 53.82, 129.2"),
        (
            "sanding-methods",
            "hand",
            "us",
            "scuff use             0.014 (0.0093 to 0.023) per ft²",
            "0.15 per m² / 10.76",
        ),
        ("sanding-methods", "lathe", "us", "bare wood, removal    2 (1.3 to 3) g/min", "2 g/min"),
        ("surfaces", "planed", "us", "remove  0.002 (0.0012 to 0.0031) in", "0.03/0.05/0.08 mm / 25.4"),
        ("packs", "us", "us", "half pint, pint, quart, gallon, 5-gallon pail", "half pint to five gallons"),
    ],
)
def test_values_in_the_units_of_the_reader(kind: str, name: str, units: Any, expected: str, source: str) -> None:
    assert expected in "\n".join(lines(kind, name, units)), source


def test_the_sources_stand_in_full_at_the_foot() -> None:
    foot = lines("timbers", "white-pine")
    foot = foot[foot.index("Sources") :]
    text = " ".join(" ".join(foot).split())
    assert "[memory] Recalled, not checked against a publication (memory)" in text
    assert "Tables 4-3 and 4-4, shrinkage from green to oven-dry (published, seen in print)" in text
    assert "(published, as quoted elsewhere)" in text
    assert "(practice)" in text


@each("units", ["metric", "us"])
@each(("kind", "name", "record"), RECORDS)
def test_every_record_can_be_shown(kind: str, name: str, record: Any, units: Any) -> None:
    shown = record_lines(kind, name, record, CATALOGUE, units)
    assert shown[0].startswith(f"{name} ({kind})")
    assert all(len(line) <= WIDTH for line in shown[1:])
    assert "None" not in "\n".join(shown).split()
    if isinstance(record, Sourced):
        foot = "\n".join(shown[shown.index("Sources") :])
        assert all(f"[{key}]" in foot for key in record.source_keys())


@each(("kind", "name", "record"), RECORDS)
def test_every_record_survives_json(kind: str, name: str, record: Any) -> None:
    data = record_json(kind, name, record, CATALOGUE)
    assert json.loads(json.dumps(data, ensure_ascii=False, allow_nan=False)) == data
    assert data["format"] == "finplan-catalogue/1"
    assert (data["kind"], data["name"], data["title"]) == (kind, name, record.title)
    if isinstance(record, Sourced):
        assert set(data["references"]) == record.source_keys()


def test_a_value_in_json_has_its_unit_in_its_name_and_its_source_beside_it() -> None:
    data = record_json("finishes", "oil-stain", CATALOGUE.finishes["oil-stain"], CATALOGUE)
    assert data["values"]["spread_rate"]["first_m2_l"] == {"low": 5.0, "typical": 7.0, "high": 10.0}
    assert data["values"]["apply"]["temperature_c"] == {"low": 13.0, "high": 30.0}
    assert data["values"]["hazards"]["self_heating"] is True
    assert data["sources"] == {"spread-rate.first": "wood-handbook-stain"}
    assert data["references"]["wood-handbook-stain"]["rests"] == "published"
    assert data["references"]["practice"]["rests"] == data["basis"] == "practice"


def test_the_listing_names_every_record_once() -> None:
    names = {kind: list(named) for kind, named in CATALOGUE.kinds().items()}
    assert listing_json(CATALOGUE.kinds()) == {"format": "finplan-catalogue/1", "kinds": names}
    listed = listing_lines(CATALOGUE.kinds(), CATALOGUE)
    assert [line for line in listed if line and not line.startswith(" ")] == list(names)
    assert sum(line.startswith("  ") for line in listed) == sum(len(named) for named in names.values())
