"""Whether the consumables say what they are for and how fast they go."""

from __future__ import annotations

import pytest

from finplan.catalogue import Consumable, bundled_catalogue
from finplan.catalogue.finish import Hazards
from finplan.reading import file_name

CATALOGUE = bundled_catalogue()
CONSUMABLES = [pytest.param(name, one, id=name) for name, one in CATALOGUE.consumables.items()]
BOUGHT_ONCE = {"oily-waste-can"}


@pytest.mark.parametrize(("name", "one"), CONSUMABLES)
def test_it_is_used_up_in_some_way(name: str, one: Consumable) -> None:
    ways = (one.use_per_m2, one.use_per_coat, one.life_h)
    assert any(way is not None for way in ways) == (name not in BOUGHT_ONCE), name
    if one.life_h is not None:
        assert one.life_h.low > 0, name
    counts = [pack.count for pack in one.packs]
    assert counts == sorted(set(counts)), name


def test_every_way_of_putting_a_finish_on_has_its_tool() -> None:
    tools = {name for one in CATALOGUE.consumables.values() if "applying" in one.used_for for name in one.methods}
    by_hand = {name for name, method in CATALOGUE.methods.items() if not method.sprayed}
    assert by_hand - tools == {"spatula"}  # which does not wear out


def test_what_burns_by_itself_has_its_can_and_what_is_breathed_its_filter() -> None:
    def called_for(trigger: str) -> set[str]:
        return {name for name, one in CATALOGUE.consumables.items() if trigger in one.applies}

    assert called_for("self-heating") == {"oily-waste-can"}
    assert {"dust-mask", "particulate-filter"} <= called_for("sanding")
    assert "organic-vapour-cartridge" in called_for("spraying")
    assert "dust-mask" not in called_for("spraying")  # it stops no vapour


def test_no_cartridge_is_called_a_measure_against_isocyanate() -> None:
    # OSHA letters of 1982 and 2000: not a cartridge on trust.
    assert [name for name, one in CATALOGUE.consumables.items() if "isocyanate" in one.applies] == []


@pytest.mark.parametrize(("name", "one"), CONSUMABLES)
def test_its_dangers_are_those_of_finishes_or_of_work(name: str, one: Consumable) -> None:
    known = {file_name(field) for field in Hazards.model_fields} | {"sanding", "hardwood-dust", "spraying"}
    assert set(one.applies) <= known, name
