"""Timbers against USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010).

Movement: Table 13-5, change of width per width and per 1 % of moisture content, valid from 6 to 14 %.
Shrinkage: Tables 4-3 (domestic) and 4-4 (imported), green to oven-dry. Only figures that were seen in print stand here.
"""

from __future__ import annotations

import pytest

from finplan.catalogue import bundled_catalogue

TIMBERS = bundled_catalogue().timbers

MOVEMENT = [  # Table 13-5: radial, tangential
    ("white-oak", 0.00180, 0.00365),
    ("red-oak", 0.00158, 0.00369),
    ("ash", 0.00169, 0.00274),
    ("sugar-maple", 0.00165, 0.00353),
    ("red-maple", 0.00137, 0.00289),
    ("cherry", 0.00126, 0.00248),
    ("walnut", 0.00190, 0.00274),
    ("beech", 0.00190, 0.00431),
    ("birch", 0.00256, 0.00338),
    ("paper-birch", 0.00219, 0.00304),
]
SHRINKAGE = [  # Tables 4-3 and 4-4: radial, tangential, volumetric, in %
    ("white-oak", 5.6, 10.5, 16.3),
    ("ash", 4.9, 7.8, 13.3),
    ("cherry", 3.7, 7.1, 11.5),
    ("walnut", 5.5, 7.8, 12.8),
    ("beech", 5.5, 11.9, 17.2),
    ("birch", 7.3, 9.5, 16.8),
    ("paper-birch", 6.3, 8.6, 16.2),
    ("poplar", 4.6, 8.2, 12.7),
    ("mahogany", 3.0, 4.1, 7.8),
    ("african-mahogany", 2.5, 4.5, 8.8),
    ("white-pine", 2.1, 6.1, None),
    ("ponderosa-pine", 3.9, 6.2, None),
]
GRAVITY = [  # at 12 % moisture content, as quoted in derived tables and in US Army TM 5-852-4, Table 2-2
    *[("white-oak", 0.68), ("red-oak", 0.63), ("ash", 0.60), ("sugar-maple", 0.63), ("red-maple", 0.54)],
    *[("cherry", 0.50), ("beech", 0.64), ("birch", 0.62), ("paper-birch", 0.55)],
    *[("white-pine", 0.35), ("ponderosa-pine", 0.40)],
]


@pytest.mark.parametrize(("name", "radial", "tangential"), MOVEMENT)
def test_movement(name: str, radial: float, tangential: float) -> None:
    movement = TIMBERS[name].movement
    assert movement is not None
    assert (movement.radial, movement.tangential) == (radial, tangential)


@pytest.mark.parametrize(("name", "radial", "tangential", "volumetric"), SHRINKAGE)
def test_shrinkage(name: str, radial: float, tangential: float, volumetric: float | None) -> None:
    shrinkage = TIMBERS[name].shrinkage
    assert shrinkage is not None
    assert (shrinkage.radial_pct.typical, shrinkage.tangential_pct.typical) == (radial, tangential)
    if volumetric is not None:
        assert shrinkage.volumetric_pct is not None
        assert shrinkage.volumetric_pct.typical == volumetric


@pytest.mark.parametrize(("name", "gravity"), GRAVITY)
def test_specific_gravity(name: str, gravity: float) -> None:
    assert TIMBERS[name].specific_gravity == gravity


def test_the_handbook_is_named_only_for_what_was_seen() -> None:
    def named(field: str, key: str) -> set[str]:
        return {name for name, timber in TIMBERS.items() if timber.source_of(field) == key}

    assert named("movement", "wood-handbook-movement") == {name for name, *_ in MOVEMENT} | {"ponderosa-pine"}
    assert TIMBERS["ponderosa-pine"].source_of("movement.radial") == "memory"
    assert named("shrinkage", "wood-handbook-shrinkage") == {name for name, *_ in SHRINKAGE}
    assert named("specific-gravity", "wood-handbook-gravity") == {name for name, _ in GRAVITY}


def test_basic_specific_gravity_is_brought_to_twelve_per_cent() -> None:
    # Wood Handbook, FPL-GTR-190, chapter 4: G at moisture M is Gb / (1 - 0.265 a Gb) with a = (30 - M) / 30.
    for name, basic in (("teak", 0.55), ("mahogany", 0.45), ("african-mahogany", 0.42), ("sapele", 0.55)):
        expected = basic / (1 - 0.265 * (30 - 12) / 30 * basic)
        assert TIMBERS[name].specific_gravity == pytest.approx(expected, abs=0.005)
