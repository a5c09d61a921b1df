"""What is listed where something is asked for."""

from __future__ import annotations

import pytest

from finplan.catalogue import MODELS, bundled_catalogue
from finplan.lookup import Selection, ready_h, selected
from finplan.lookup.properties import PROPERTIES
from finplan.problems import NotPossibleError
from tests.each import each

CATALOGUE = bundled_catalogue()
ASKED = [(kind, name) for kind, asked in PROPERTIES.items() for name in asked]


def names(kind: str, *properties: str, ready_by_h: float | None = None) -> set[str]:
    return set(selected(CATALOGUE, Selection(kind, properties, ready_by_h))[kind])


def test_nothing_asked_is_everything() -> None:
    assert selected(CATALOGUE, Selection()) == {kind: dict(named) for kind, named in CATALOGUE.kinds().items()}


def test_one_kind() -> None:
    assert selected(CATALOGUE, Selection("timbers")) == {"timbers": dict(CATALOGUE.timbers)}


@each(("kind", "name"), ASKED)
def test_every_property_can_be_asked_and_tells_records_apart(kind: str, name: str) -> None:
    found = names(kind, name)
    assert found < set(CATALOGUE.kinds()[kind])
    if name != "child-contact":  # no bundled finish is listed for it; a shop's own may be
        assert found, name


@pytest.mark.parametrize(
    ("kind", "properties", "expected"),
    [
        ("finishes", ["food-contact"], {"tung-oil"}),
        ("finishes", ["two-part", "waterborne"], {"polyurethane-2k-waterborne"}),
        ("finishes", ["dissolved", "waterborne"], {"soap-flakes", "casein-paint", "water-dye"}),
        ("timbers", ["oily"], {"teak", "iroko"}),
        ("systems", ["waterborne"], {"waterborne-polyurethane", "soap", "acrylic-enamel"}),
        ("systems", ["food-contact"], {"tung-oil"}),
        ("abrasives", ["disc"], {"disc-125", "disc-150"}),
        ("consumables", ["waste"], {"oily-waste-can", "waste-bag"}),
        ("solvents", ["no-flammable-vapour"], {"water"}),
    ],
)
def test_what_is_asked_for(kind: str, properties: list[str], expected: set[str]) -> None:
    assert names(kind, *properties) == expected


@pytest.mark.parametrize("name", ["food-contact", "no-isocyanate", "no-rags", "no-flammable-vapour", "waterborne"])
def test_a_system_is_only_as_harmless_as_its_worst_coat(name: str) -> None:
    finishes = names("finishes", name)
    for system, record in CATALOGUE.systems.items():
        assert (system in names("systems", name)) == (set(record.finishes()) <= finishes)


def test_a_system_that_waxes_shellac_builds_a_film_and_is_no_penetrating_one() -> None:
    assert "shellac" in names("systems", "film")
    assert "shellac" in names("systems", "wax")
    assert "shellac" not in names("systems", "penetrating")


def test_opposites_share_no_finish() -> None:
    for one, other in (("film", "penetrating"), ("one-part", "two-part"), ("oil", "waterborne")):
        assert names("finishes", one) & names("finishes", other) == set()


def test_kinds_of_which_it_cannot_be_asked_are_left_out() -> None:
    assert list(selected(CATALOGUE, Selection(None, ("waterborne",)))) == ["finishes", "systems"]
    assert list(selected(CATALOGUE, Selection(ready_by_h=72.0))) == ["finishes", "systems"]


@pytest.mark.parametrize(
    ("system", "low", "typical", "high", "source"),
    [
        ("hardwax-oil-2k", 24, 36, 48, "one coat: light use 24/36/48 h"),
        ("hardwax-oil", 32, 60, 96, "recoat 8/12/24 h, then 24/48/72 h"),
        ("waterborne-polyurethane", 29, 32, 68, "grain 1/4/12 h, recoat twice 2/2/4 h, then 24/24/48 h"),
        ("oil-varnish", 96, 168, 264, "recoat twice 12/24/48 h, then 72/120/168 h"),
        ("tung-oil", 240, 384, 552, "recoat three times 24/48/72 h, then 168/240/336 h"),
    ],
)
def test_a_system_is_ready_when_its_slowest_coat_is(
    system: str, low: float, typical: float, high: float, source: str
) -> None:
    ready = ready_h(CATALOGUE.systems[system], CATALOGUE)
    assert ready is not None
    assert (ready.low, ready.typical, ready.high) == (low, typical, high), source


def test_ready_by() -> None:
    assert "hardwax-oil" in names("systems", ready_by_h=60.0)
    assert "hardwax-oil" not in names("systems", ready_by_h=59.9)
    assert "oil-stain" not in names("finishes", ready_by_h=1e4)  # always under something else


@pytest.mark.parametrize(
    ("wanted", "message"),
    [
        (Selection("finish"), "'finish' is no kind of record; did you mean 'finishes'? Known: sources, finishes,"),
        (Selection(None, ("foodcontact",)), "'foodcontact' is no property of any record; did you mean 'food-contact'?"),
        (
            Selection("timbers", ("oyly",)),
            "'oyly' is no property of timbers; did you mean 'oily'? Known: allergenic-dust,",
        ),
        (
            Selection("systems", ("tannin",)),
            "'tannin' is asked of timbers, not of systems; known: child-contact, clear,",
        ),
        (Selection("caps", ("oily",)), "'oily' is asked of timbers, not of caps; known: none"),
        (Selection(None, ("oily", "film")), "'oily' and 'film' cannot be asked of one kind of record together"),
        (Selection("timbers", (), 72.0), "'--dry-by' cannot be asked of timbers"),
    ],
)
def test_what_cannot_be_asked_is_refused_with_what_can(wanted: Selection, message: str) -> None:
    with pytest.raises(NotPossibleError) as caught:
        selected(CATALOGUE, wanted)
    assert str(caught.value).startswith(message)


def test_properties_belong_to_kinds() -> None:
    assert set(PROPERTIES) <= set(MODELS)
