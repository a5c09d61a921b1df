"""Lists, joints and assemblies are added to, changed and taken from with buttons: what each begins with is right."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from pathlib import Path

import pytest

from finplan.page.asked import edit_of
from finplan.page.edits import AddItem, AnyEdit, PutValue, RemoveValue
from finplan.page.lists import ListAddition
from finplan.page.reckoned import Reckoned
from finplan.page.shown import PieceShown, piece_shown
from finplan.page.starting import starting_fields, starting_shapes
from finplan.page.workbench import NotTakenError, Workbench

NOW = datetime(2027, 1, 11, 8, 0, tzinfo=UTC)


def bench(folder: Path, text: str) -> Workbench:
    (folder / "a.yaml").write_text(text)
    return Workbench(folder, lambda: NOW)


def shown(session: Workbench) -> PieceShown:
    return piece_shown(session, session.view("a.yaml"))


def digest(session: Workbench) -> str:
    return session.folder.text("a.yaml").digest


def tried(session: Workbench, edit: AnyEdit) -> Reckoned:
    return session.tried("a.yaml", edit, digest(session))


def errors(found: Reckoned) -> list[str]:
    return [str(one) for one in found.problems if one.severity == "error"]


def piece(shape: str, lengths: str | None) -> str:
    fields = "".join(f"    {name}: {value}\n" for name, value in starting_fields(shape, lengths).items())
    unit = f"lengths: {lengths}\n" if lengths else ""
    return f"piece: One part\n{unit}timber: ash\nsystem: hardwax-oil\nparts:\n  it:\n{fields}"


@pytest.mark.parametrize("lengths", ["mm", "in", None])
@pytest.mark.parametrize("shape", starting_shapes())
def test_what_is_put_in_with_a_button_is_right_at_once(tmp_path: Path, shape: str, lengths: str | None) -> None:
    session = bench(tmp_path, piece(shape, lengths))
    (part,) = shown(session).parts
    for one in part.begun:
        found = tried(session, PutValue(path=tuple(json.loads(one.path)), value=one.value))
        assert errors(found) == [], (shape, one)
    for one in part.of_faces:
        face = part.faces[0].path[3]
        form = {"do": "of-face", "path": part.path, "face": str(face), "gets": f"{one.path}={one.value}"}
        assert errors(tried(session, edit_of(form, there=False, lengths=lengths))) == [], (shape, one)


@pytest.mark.parametrize("lengths", ["mm", "in", None])
@pytest.mark.parametrize(
    ("shape", "more"),
    [
        ("turned", ""),
        ("moulding", ""),
        ("board", "    grooves: [{face: back, width: 1/8 in, depth: 1/4 in}]\n"),
        ("board", "    faces: {back: {less: [2 x 1 in x 2 in]}}\n"),
        ("outline", None),
    ],
)
def test_every_list_is_added_to_and_taken_from(
    tmp_path: Path, shape: str, more: str | None, lengths: str | None
) -> None:
    text = piece(shape, lengths)
    if more is None:
        corners = {"mm": "[0, 0], [400, 0], {corner: [400, 300]}", "in": "[0, 0], [16, 0], {corner: [16, 12]}"}
        points = corners.get(lengths or "", "[0 mm, 0 mm], [400 mm, 0 mm], {corner: [400 mm, 300 mm]}")
        unit = f"lengths: {lengths}\n" if lengths else ""
        text = f"piece: a\n{unit}timber: ash\nsystem: hardwax-oil\nparts:\n  it:\n    shape: outline\n"
        text += f"    points: [{points}]\n    thickness: 1 in\n"
    session = bench(tmp_path, text + (more or ""))
    (part,) = shown(session).parts
    assert part.lists
    for one in part.lists:
        path = tuple(json.loads(one.path))
        begun: list[tuple[int | None, ListAddition]] = [(None, added) for added in one.shown.add]
        begun += [(at, added) for at, item in enumerate(one.items) for added in item.item.before]
        for before, added in begun:
            edit = AddItem(path=path, value=added.value, before=before)
            assert [told for told in errors(tried(session, edit)) if "length" not in told] == [], (one.shown, added)
            view = session.take("a.yaml", edit, digest(session))
            at = len(one.items) if before is None else before
            session.take("a.yaml", RemoveValue(path=(*path, at)), view.text.digest)
            assert session.folder.text("a.yaml").words == text + (more or "")


def test_parts_are_joined_and_glued_and_taken_apart(tmp_path: Path) -> None:
    text = (
        "piece: Stool\nlengths: mm\ntimber: ash\nsystem: hardwax-oil\nparts:\n"
        "  seat: {shape: disc, diameter: 320, thickness: 30}\n"
        "  leg: {shape: rod, diameter: 32, length: 420, count: 3}  # turned by hand\n"
        "  rung: {shape: rod, diameter: 20, length: 240, count: 3}\n"
    )
    session = bench(tmp_path, text)

    def take(**form: str) -> PieceShown:
        session.take("a.yaml", edit_of(form, there=False, lengths="mm"), digest(session))
        return shown(session)

    assert shown(session).joined.free == ("seat", "leg", "rung")
    joined = take(do="join", name="base", **{"join.leg": "yes", "join.rung": "yes"}).joined
    assert [one.name for one in joined.assemblies] == ["base"]
    assert joined.free == ("seat",)
    (base,) = joined.assemblies
    joined = take(do="add", path=base.list_path, value="seat").joined
    assert joined.free == ()
    joined = take(do="remove", path=joined.assemblies[0].parts[2][1]).joined
    assert joined.free == ("seat",)
    joined = take(do="glue", one='["rung", "ends"]', other='["leg", "side"]').joined
    assert session.folder.text("a.yaml").words.endswith("joints: [{from: rung, face: ends, to: leg, on: side}]\n")
    (joint,) = joined.joints
    assert [field.value for field in joint.fields] == ["rung", "ends", "leg", "side"]
    assert [one.value for one in joint.fields[1].choices] == ["side", "ends"]
    with pytest.raises(NotTakenError):
        take(do="glue", one='["rung", "lid"]', other='["leg", "side"]')
    take(do="remove", path=joint.path)
    assert take(do="remove", path=base.path).joined.assemblies == ()
    assert session.folder.text("a.yaml").words == text


def test_a_measured_face_of_which_only_the_area_is_said_is_covered_like_any_other(tmp_path: Path) -> None:
    text = piece("measured", "mm").replace("{area: 0.5 m2}", "0.5 m2")
    session = bench(tmp_path, text)
    form = {"path": json.dumps(["parts", "it", "faces", "surface", "exposure"]), "value": "covered"}
    session.take("a.yaml", edit_of(form, there=False, lengths="mm"), digest(session))
    after = session.folder.text("a.yaml").words
    assert after == text.replace("surface: 0.5 m2", "surface: {area: 0.5 m2, exposure: covered}")


def test_a_part_of_an_assembly_is_not_taken_out_of_the_piece_unsaid(tmp_path: Path) -> None:
    text = piece("disc", "mm") + "  leg: {shape: rod, diameter: 32, length: 420}\nassemblies: {base: {parts: [leg]}}\n"
    session = bench(tmp_path, text)
    found = tried(session, RemoveValue(path=("parts", "leg")))
    assert any("leg" in told for told in errors(found))
