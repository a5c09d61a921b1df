"""Whether the timbers agree with themselves."""

from __future__ import annotations

import pytest

from finplan.catalogue import Timber, bundled_catalogue

TIMBERS = [pytest.param(name, timber, id=name) for name, timber in bundled_catalogue().timbers.items()]


@pytest.mark.parametrize(("name", "timber"), TIMBERS)
def test_wood_shrinks_more_round_the_rings_than_across(name: str, timber: Timber) -> None:
    assert timber.shrinkage is not None
    assert timber.shrinkage.radial_pct.typical < timber.shrinkage.tangential_pct.typical, name
    if timber.movement is not None:
        assert timber.movement.radial < timber.movement.tangential, name


@pytest.mark.parametrize(("name", "timber"), TIMBERS)
def test_volume_shrinks_about_as_both_widths_together(name: str, timber: Timber) -> None:
    assert timber.shrinkage is not None
    if timber.shrinkage.volumetric_pct is None:
        return
    both = timber.shrinkage.radial_pct.typical + timber.shrinkage.tangential_pct.typical
    # The tables' own figures differ by up to a third: teeth of collapse and of length are in the volume.
    assert both * 0.8 <= timber.shrinkage.volumetric_pct.typical <= both * 1.36, name


@pytest.mark.parametrize(("name", "timber"), TIMBERS)
def test_movement_is_shrinkage_spread_over_the_moisture_lost(name: str, timber: Timber) -> None:
    # From fibre saturation (25 to 30 %) to oven-dry; the Wood Handbook's coefficients are for 6 to 14 %, where wood
    # moves less than the mean. Its two tables disagree most for mahogany (17 %).
    if timber.movement is None or timber.shrinkage is None:
        return
    for shrinkage, coefficient in (
        (timber.shrinkage.radial_pct.typical, timber.movement.radial),
        (timber.shrinkage.tangential_pct.typical, timber.movement.tangential),
    ):
        assert 17 <= shrinkage / 100 / coefficient <= 37, name


@pytest.mark.parametrize(("name", "timber"), TIMBERS)
def test_pores_oil_and_resin_fit_together(name: str, timber: Timber) -> None:
    if timber.pores == "softwood":
        assert not timber.dust.hardwood, name
        assert not timber.filler_for_flat, name
    else:
        assert timber.dust.hardwood, name
        assert not timber.resinous, name
    if timber.filler_for_flat:
        assert timber.open_pored, name
    if timber.large_pores:
        assert timber.pores == "diffuse-porous", name


@pytest.mark.parametrize(
    ("name", "open_pored", "source"),
    [
        ("white-oak", True, "ring-porous"),
        ("walnut", True, "semi-ring-porous"),
        ("mahogany", True, "diffuse-porous with large pores"),
        ("beech", False, "diffuse-porous"),
        ("spruce", False, "softwood: no pores"),
    ],
)
def test_open_pores(name: str, open_pored: bool, source: str) -> None:
    assert bundled_catalogue().timbers[name].open_pored is open_pored, source


@pytest.mark.parametrize(
    ("name", "potency"),
    # Potency + to ++++ in the chart of American Woodturner, June 1990, as copied by clubs.
    [
        *[("iroko", 3), ("beech", 2), ("birch", 2), ("white-oak", 2), ("walnut", 2), ("teak", 2)],
        *[("mahogany", 1), ("spruce", 1), ("elm", 1)],
    ],
)
def test_sensitisers(name: str, potency: int) -> None:
    timber = bundled_catalogue().timbers[name]
    assert timber.dust.sensitiser == potency
    assert timber.source_of("dust") == "sensitiser-chart-1990"
