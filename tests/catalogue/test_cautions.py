"""Whether every danger that the catalogue knows has its caution, and no caution cries wolf."""

from __future__ import annotations

from typing import get_args

import pytest

from finplan.catalogue import Caution, bundled_catalogue
from finplan.catalogue.caution import Trigger
from finplan.catalogue.finish import Hazards
from finplan.reading import file_name
from tests.each import each

CAUTIONS = bundled_catalogue().cautions
ALL = [pytest.param(name, caution, id=name) for name, caution in CAUTIONS.items()]


def test_every_trigger_has_a_caution() -> None:
    assert {trigger for caution in CAUTIONS.values() for trigger in caution.applies} == set(get_args(Trigger))


def test_every_hazard_of_a_finish_is_a_trigger() -> None:
    assert {file_name(field) for field in Hazards.model_fields} <= set(get_args(Trigger))


def test_one_caution_is_always_printed_and_says_what_comes_first() -> None:
    always = [caution for caution in CAUTIONS.values() if "always" in caution.applies]
    assert len(always) == 1
    for words in ("local codes", "label", "safety data sheet", "licensed practice"):
        assert words in always[0].text.lower()


@each(("name", "caution"), ALL)
def test_it_is_short_enough_for_the_bench(name: str, caution: Caution) -> None:
    assert len(caution.text) <= 260, name
    assert len(caution.where_isocyanate or "") <= 260, name
    assert len(caution.reason) <= 200, name


@each(("name", "caution"), ALL)
def test_it_speaks_to_the_person_and_ends_properly(name: str, caution: Caution) -> None:
    assert caution.text.endswith("."), name
    assert caution.reason.endswith("."), name
    assert len({caution.text, caution.reason, caution.title}) == 3, name


def test_cloths_of_waterborne_finishes_are_not_called_dangerous() -> None:
    waterborne = bundled_catalogue().finishes["waterborne-polyurethane"].hazards
    on = {file_name(field) for field in Hazards.model_fields if getattr(waterborne, field)}
    assert [name for name, caution in CAUTIONS.items() if on & set(caution.applies)] == []


def test_what_kills_ranks_first() -> None:
    worst = {trigger for caution in CAUTIONS.values() if caution.rank == 1 for trigger in caution.applies}
    burns = {"self-heating", "fresh-oil-dust", "flammable", "burning-waste", "spraying-flammable"}
    assert worst == {
        *burns,
        "residue-of-another",
        "isocyanate",
        "old-paint",
        "old-paint-untested",
        "old-paint-found",
        "air-near-burning",
        "always",
    }


def test_oily_cloths_are_named_at_the_end_of_each_step() -> None:
    assert CAUTIONS["oily-cloths"].when == "end of each step"
    assert bundled_catalogue().sources[CAUTIONS["oily-cloths"].basis].verified


@each(("name", "caution"), ALL)
def test_nothing_is_called_safe_for_food(name: str, caution: Caution) -> None:
    assert "food safe" not in f"{caution.text} {caution.reason}".lower(), name
