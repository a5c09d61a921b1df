"""Whether the consumables say what they are for and how fast they go."""

from __future__ import annotations

import pytest

from finplan.catalogue import Consumable, bundled_catalogue

CATALOGUE = bundled_catalogue()
BOUGHT_ONCE = {"oily-waste-can"}
CONSUMABLES = [pytest.param(name, one, id=name) for name, one in CATALOGUE.consumables.items()]


@pytest.mark.parametrize(("name", "one"), CONSUMABLES)
def test_it_is_used_up_in_some_way(name: str, one: Consumable) -> None:
    ways = (one.use_per_m2, one.use_per_coat, one.life_h)
    beside = {used for step in CATALOGUE.extra_steps.values() for used in (*step.uses, *step.uses_each)}
    assert any(way is not None for way in ways) == (name not in BOUGHT_ONCE and not one.beside_coats), name
    assert not one.beside_coats or name in beside, name
    if one.life_h is not None:
        assert one.life_h.low > 0, name
    counts = [pack.count for pack in one.packs]
    assert counts == sorted(set(counts)), name


def test_every_way_of_putting_a_finish_on_has_its_tool() -> None:
    tools = {name for one in CATALOGUE.consumables.values() if "applying" in one.used_for for name in one.methods}
    by_hand = {name for name, method in CATALOGUE.methods.items() if not method.sprayed}
    assert by_hand - tools == {"spatula"}  # which does not wear out


def called_for(trigger: str) -> set[str]:
    """What cautions ask for where something is there, bought or had."""
    cautions = [one for one in CATALOGUE.cautions.values() if trigger in one.applies]
    return {name for caution in cautions for name in (*caution.uses, *caution.needs)}


def test_what_burns_by_itself_has_its_can_and_what_is_breathed_its_filter() -> None:
    assert "oily-waste-can" in called_for("self-heating")
    assert "dust-mask" in called_for("sanding")
    assert {"organic-vapour-cartridge", "particulate-filter", "half-mask"} <= called_for("spraying")
    assert "dust-mask" not in called_for("spraying")  # it stops no vapour
    assert {"particulate-filter", "half-mask"} <= called_for("old-paint") & called_for("reactive-dust")
    assert {"nitrile-gloves", "goggles"} <= called_for("lime")
    assert "dust-mask" in called_for("powder")


def test_no_cartridge_is_called_a_measure_against_isocyanate() -> None:
    # OSHA letters of 1982 and 2000: not a cartridge on trust.
    assert "organic-vapour-cartridge" not in called_for("isocyanate")
    assert "organic-vapour-cartridge" in CATALOGUE.equipment["breathing-protection"].spares


def test_every_mask_of_the_air_is_equipment() -> None:
    assert set(CATALOGUE.respirators) <= set(CATALOGUE.equipment)
    assert all(CATALOGUE.equipment[name].holds for name in CATALOGUE.respirators)


def test_all_equipment_is_asked_for() -> None:
    asked = {name for one in CATALOGUE.cautions.values() for name in one.needs} | set(CATALOGUE.respirators)
    assert set(CATALOGUE.equipment) == asked
