"""The recipe of a system, unrolled for a piece."""

from __future__ import annotations

from pathlib import Path

import pytest

from finplan.planning import Source, read_source, together
from finplan.problems import RefusedError
from finplan.system import CoatStep, Treatment, two_sides
from tests.conftest import EXAMPLE, Cli


def treated(folder: Path, text: str, shop: str | None = None) -> tuple[Source, tuple[Treatment, ...]]:
    piece_file = folder / "piece.yaml"
    piece_file.write_text(text, encoding="utf-8")
    shop_file = None
    if shop:
        shop_file = folder / "shop.yaml"
        shop_file.write_text(shop, encoding="utf-8")
    source = read_source(piece_file, shop_file)
    return source, together([source])[0].treatments


def test_assemblies_are_coated_as_one(tmp_path: Path) -> None:
    _, found = treated(tmp_path, EXAMPLE)
    assert [(one.item, one.parts) for one in found] == [("top", ("top",)), ("base", ("leg", "apron"))]


def test_covered_faces_get_nothing(tmp_path: Path) -> None:
    source, found = treated(tmp_path, EXAMPLE)
    faces = {(group.part, face) for one in found for group in one.groups for face in group.faces}
    assert ("apron", "ends") not in faces
    assert ("apron", "grooves") not in faces
    assert sum(one.area_m2 for one in found) == pytest.approx(source.surface.finished_m2)


def test_only_the_first_coat_meets_bare_wood(tmp_path: Path) -> None:
    _, found = treated(tmp_path, EXAMPLE.replace("hardwax-oil", "stain-and-varnish"))
    assert [step.bare for step in found[0].steps if step.do == "coat"] == [True, False, False, False]


def test_a_face_with_fewer_coats(tmp_path: Path) -> None:
    text = EXAMPLE.replace("    edge: {top:", "    faces: {underside: {coats: 1}}\n    edge: {top:")
    _, found = treated(tmp_path, text)
    top = found[0]
    coats = [step for step in top.steps if step.do == "coat"]
    assert any("underside" in group.faces for group in coats[0].groups)
    assert not any("underside" in group.faces for group in coats[1].groups)
    (abrading,) = (step for step in top.steps if step.do == "abrade")
    assert not any("underside" in group.faces for group in abrading.groups)


def test_more_coats_than_a_system_has_are_refused_where_they_are_asked_for(tmp_path: Path, cli: Cli) -> None:
    file = tmp_path / "table.yaml"
    file.write_text(
        EXAMPLE.replace("    edge: {top:", "    faces: {top: {coats: 3}}\n    edge: {top:"), encoding="utf-8"
    )
    told = cli("check", file)
    assert told.status == 2
    assert (
        "parts.top.faces.top.coats: system 'hardwax-oil' has 2 coats, and 3 are asked for; expected 0 to 2" in told.out
    )
    assert cli("materials", file).status == 2
    assert cli("areas", file).status == 0


@pytest.mark.parametrize(
    ("system", "coats", "told"),
    [
        ("dye-and-waterborne", 1, "it ends with 'water-dye', and nothing over it; expected 0, or 2 or more"),
        ("stain-and-varnish", 1, "it ends with 'oil-stain', and nothing over it; expected 0, or 2 or more"),
        ("alkyd-enamel", 1, "it ends with 'alkyd-primer', and nothing over it"),
        ("dye-and-waterborne", 0, None),
        ("dye-and-waterborne", 2, None),
        ("hardwax-oil", 1, None),
    ],
)
def test_colour_that_nothing_goes_over_is_warned_of(
    system: str, coats: int, told: str | None, tmp_path: Path, cli: Cli
) -> None:
    file = tmp_path / "table.yaml"
    text = EXAMPLE.replace("hardwax-oil", system)
    text = text.replace("    edge: {top:", f"    faces: {{underside: {{coats: {coats}}}}}\n    edge: {{top:")
    file.write_text(text, encoding="utf-8")
    out = " ".join(cli("check", file).out.split())
    assert ("nothing over it" in out) is (told is not None)
    if told is not None:
        assert f"parts.top.faces.underside.coats: with 1 coat of '{system}' {told}" in out
        file.write_text(f"accept: [under-nothing]\n{text}", encoding="utf-8")
        assert "nothing over it" not in cli("check", file).out


def test_a_face_without_coats(tmp_path: Path) -> None:
    text = EXAMPLE.replace("    edge: {top:", "    faces: {underside: {coats: 0}}\n    edge: {top:")
    _, found = treated(tmp_path, text)
    for step in found[0].steps:
        if step.do == "coat":
            assert not any("underside" in group.faces for group in step.groups)


def test_a_face_with_a_system_of_its_own(tmp_path: Path) -> None:
    text = EXAMPLE.replace("    edge: {top:", "    faces: {underside: {system: shellac}}\n    edge: {top:")
    _, found = treated(tmp_path, text)
    assert [(one.item, one.system) for one in found][:2] == [("top", "hardwax-oil"), ("top", "shellac")]


FILLED = [("white-oak", ["sand", "fill", "abrade", "coat", "abrade", "coat"])]
UNFILLED = [("sugar-maple", ["sand", "coat", "abrade", "coat"])]


@pytest.mark.parametrize(("timber", "steps"), [*FILLED, *UNFILLED])
def test_pores_are_filled_and_the_filler_abraded_where_the_timber_asks(
    timber: str, steps: list[str], tmp_path: Path
) -> None:
    _, found = treated(
        tmp_path, EXAMPLE.replace("timber: ash", f"timber: {timber}").replace("hardwax-oil", "polyurethane-2k")
    )
    assert [step.do for step in found[0].steps] == steps


def test_the_shop_s_own_methods(tmp_path: Path) -> None:
    _, found = treated(tmp_path, EXAMPLE, "shop: Back room\nmethods: [brush, hand]\n")
    assert {step.method for one in found for step in one.steps if step.do == "coat"} == {"brush"}


def test_a_shop_that_cannot_put_it_on(tmp_path: Path) -> None:
    with pytest.raises(RefusedError, match="which the shop does not have"):
        treated(tmp_path, EXAMPLE.replace("hardwax-oil", "lacquer"), "shop: Back room\nmethods: [brush, hand]\n")


def test_nothing_is_named(tmp_path: Path) -> None:
    text = EXAMPLE.replace("timber: ash\n", "").replace("system: hardwax-oil\n", "")
    with pytest.raises(RefusedError) as refused:
        treated(tmp_path, text)
    told = str(refused.value)
    for part in ("top", "leg", "apron"):
        assert f"parts.{part}: no timber is named" in told
        assert f"parts.{part}: no finishing system is named" in told


@pytest.mark.parametrize("alike", ["", "set: 2\n"])
def test_a_board_whose_faces_both_show_gets_a_film_on_one_side_at_a_time(alike: str, tmp_path: Path) -> None:
    """On points the wet film would be marked (common trade practice); each of a set is such a board too."""
    board = "piece: Leaf\nlengths: mm\ntimber: ash\nsystem: oil-varnish\n" + alike
    board += "parts:\n  leaf: {shape: board, length: 900, width: 500, thickness: 25, faces: {back: {exposure: show}}}\n"
    source, treatments = treated(tmp_path, board)
    for treatment in treatments:
        for step in treatment.steps:
            if isinstance(step, CoatStep):
                sides = two_sides(treatment, step, source.catalogue)
                assert sides is not None
                first, second = ({face for group in side for face in group.faces} for side in sides)
                assert first == {"back"}
                assert "front" in second
    assert len(treatments) == (2 if alike else 1)
