"""An edit changes what it names and not a byte of anything else."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.page.edits import AddItem, AddPart, EditError, PutValue, RemoveValue, RenamePart, SetValue, edited
from finplan.page.places import TextPlace, text_places
from finplan.reading import document_of
from finplan.resources import data_dir

DEMO = Path(data_dir("catalogue")).parent / "finplan" / "demo" / "files"
PIECES = {file.stem: file.read_text(encoding="utf-8") for file in sorted(DEMO.glob("*.yaml")) if file.stem != "shop"}


def data_of(text: str) -> dict[str, Any]:
    return document_of(text, Path("piece.yaml")).data


def scalars(place: TextPlace, path: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    if place.kind == "scalar":
        return [path]
    inner = place.fields.items() if place.kind == "group" else enumerate(place.items)
    return [found for name, one in inner for found in scalars(one, (*path, name))]


def at(data: Any, path: tuple[str | int, ...]) -> Any:
    for step in path:
        data = data[step]
    return data


def alike(one: list[str], other: list[str]) -> int:
    """Return how many lines are the same from the beginning on."""
    return next((n for n, pair in enumerate(zip(one, other, strict=False)) if pair[0] != pair[1]), len(other))


names = st.sampled_from(sorted(PIECES))
typed = st.one_of(
    st.sampled_from(
        ["1100", "3/4 in", "yes", "null", "a: b", "# no comment", "it's", '"quoted"', "1e3", "0x1F", "- a", "~"]
    ),
    st.text(
        st.characters(exclude_categories=("Cc", "Cs", "Zl", "Zp", "Cf", "Co", "Cn")), min_size=1, max_size=30
    ).filter(lambda text: text.strip() == text and " ".join(text.split()) == text),
)


@given(names, st.data(), typed)
def test_setting_a_value_changes_its_own_characters_alone(name: str, data: st.DataObject, value: str) -> None:
    text = PIECES[name]
    tree = text_places(text)
    path = data.draw(st.sampled_from(scalars(tree)))
    place = tree.at(path)
    assert place is not None
    found = edited(text, SetValue(path=path, value=value))
    assert found.startswith(text[: place.start])
    assert found.endswith(text[place.end :])
    read = at(data_of(found), path)
    assert str(getattr(read, "written", read)) == value or read in (None, True, False)


@pytest.mark.parametrize("value", ["-", "- a", "?", ":", "#", "a #b", ",", "]", "a: b", "---", "~"])
def test_a_sign_of_the_files_own_is_text_as_any_other(value: str) -> None:
    text = "piece: A\nparts: {a: {shape: disc, diameter: 100, thickness: 20}}\n"
    for path in (("piece",), ("parts", "a", "diameter")):
        read = at(data_of(edited(text, SetValue(path=path, value=value))), path)
        assert str(getattr(read, "written", read)) == value or (value == "~" and read is None)


@given(names, st.data())
def test_what_is_taken_out_leaves_all_other_lines_as_they_are(name: str, data: st.DataObject) -> None:
    text = PIECES[name]
    path = data.draw(st.sampled_from([one for one in scalars(text_places(text)) if one != ("parts",)]))
    found = edited(text, RemoveValue(path=path))
    before, after = text.split("\n"), found.split("\n")
    assert alike(before, after) + alike(before[::-1], after[::-1]) >= len(after) - 1  # at most one line is another
    assert len(after) <= len(before)


@given(names, st.data(), st.sampled_from(["veneer", "count", "timber", "new field"]), typed)
def test_a_new_field_leaves_every_line_as_it_is_or_adds_to_one(
    name: str, data: st.DataObject, field: str, value: str
) -> None:
    text = PIECES[name]
    part = data.draw(st.sampled_from(list(data_of(text)["parts"])))
    path = ("parts", part, field)
    found = edited(text, SetValue(path=path, value=value))
    if field in data_of(text)["parts"][part]:
        assert len(found.split("\n")) == len(text.split("\n"))
    else:
        before, lines = text.split("\n"), found.split("\n")
        at_line = next(n for n, pair in enumerate(zip(before, lines, strict=False)) if pair[0] != pair[1])
        assert lines[at_line].strip().startswith(f"{field}:")
        del lines[at_line]
        assert lines == before


def test_a_face_is_covered_where_the_file_says_nothing_of_it_and_where_it_does() -> None:
    text = PIECES["round-table"]
    found = edited(text, SetValue(path=("parts", "top", "faces", "underside", "exposure"), value="covered"))
    assert "    edge: {top: roundover 5, bottom: chamfer 3}\n    faces: {underside: {exposure: covered}}\n" in found
    found = edited(text, SetValue(path=("parts", "apron", "faces", "back", "exposure"), value="show"))
    assert found == text.replace("back: {exposure: secondary}", "back: {exposure: show}")
    found = edited(text, SetValue(path=("parts", "apron", "faces", "front", "exposure"), value="show"))
    assert "      ends: {exposure: covered}            # inside the joint\n      front: {exposure: show}\n" in found


def test_a_part_is_renamed_wherever_the_file_speaks_of_it() -> None:
    text = PIECES["round-table"] + "\njoints:\n  - {from: apron, face: ends, to: 'leg', on: blocks}\n"
    found = edited(text, RenamePart(part="leg", to="turned leg: oak"))
    assert data_of(found)["assemblies"]["base"]["parts"] == ["turned leg: oak", "apron"]
    assert data_of(found)["joints"][0]["to"] == "turned leg: oak"
    assert list(data_of(found)["parts"]) == ["top", "turned leg: oak", "apron"]
    assert "# square, where the aprons are joined" in found
    back = edited(found, RenamePart(part="turned leg: oak", to="leg"))
    assert back == text.replace("'leg'", "leg")
    with pytest.raises(EditError, match="already"):
        edited(text, RenamePart(part="leg", to="base"))


def test_a_part_comes_to_the_end_of_the_parts() -> None:
    text = PIECES["hall-bench"]
    found = edited(text, AddPart(part="slat", fields={"shape": "board", "length": "900", "edge": "{top: chamfer 2}"}))
    assert found == text + "  slat:\n    shape: board\n    length: 900\n    edge: {top: chamfer 2}\n"
    without_end = edited(text.rstrip("\n"), AddPart(part="slat", fields={"shape": "board"}))
    assert without_end.endswith("exposure: covered}\n  slat:\n    shape: board\n")


def test_comments_of_the_part_above_stay_with_it() -> None:
    text = "piece: a\nparts:\n  board:\n    shape: board\n    # count: 2\n    # faces: none\n# the end\n"
    found = edited(text, AddPart(part="slat", fields={"shape": "board"}))
    assert found == text.replace("# the end\n", "  slat:\n    shape: board\n# the end\n")
    found = edited(text, PutValue(path=("joints",), value="[]"))
    assert found == text.replace("# the end\n", "joints: []\n# the end\n")
    assert "    shape: board\n    count: 2\n    # count" in edited(
        text, SetValue(path=("parts", "board", "count"), value="2")
    )


def test_a_value_of_any_kind_is_put_in_the_place_of_another() -> None:
    text = "people:\n  - name: Ada  # she\n    hours:\n      mon: 8:00-12:00\n      tue: 8:00-12:00\n    skills: []\n"
    found = edited(text, PutValue(path=("people", 0, "hours"), value="{mon-fri: 8:00-16:00}"))
    assert found == text.replace("mon: 8:00-12:00\n      tue: 8:00-12:00", "{mon-fri: 8:00-16:00}")
    found = edited(text, AddItem(path=("people",), value="{name: Bo, hours: {mon: 8:00-9:00}}", before=0))
    assert found == text.replace("people:\n", "people:\n  - {name: Bo, hours: {mon: 8:00-9:00}}\n")


def test_the_first_part_of_an_empty_piece() -> None:
    found = edited("piece: Nothing yet\n", AddPart(part="top", fields={"shape": "disc", "diameter": "1 m"}))
    assert found == "piece: Nothing yet\nparts:\n  top:\n    shape: disc\n    diameter: 1 m\n"


def test_something_is_added_to_a_list_and_taken_out_of_it() -> None:
    text = PIECES["round-table"]
    path = ("parts", "leg", "faces", "blocks", "less")
    found = edited(text, AddItem(path=path, value="1 x 20 x 20"))
    assert "less: [2 x 100 x 22, 1 x 20 x 20]}       # where two" in found
    assert edited(found, RemoveValue(path=(*path, 1))) == text
    elements = ("parts", "leg", "elements")
    longer = edited(text, AddItem(path=elements, value="cylinder: {diameter: 29, length: 40}"))
    assert "      - taper: {from: 35, to: 29, length: 105}\n      - cylinder: {diameter: 29, length: 40}\n" in longer
    assert edited(longer, RemoveValue(path=(*elements, 6))) == text


def test_a_windows_file_keeps_its_line_ends() -> None:
    text = PIECES["hall-bench"].replace("\n", "\r\n")
    found = edited(text, SetValue(path=("parts", "seat", "timber"), value="ash"))
    assert found.replace("    timber: ash\r\n", "") == text


@pytest.mark.parametrize(
    ("text", "path"),
    [
        ("piece: a\nparts: {top: {shape: disc}}\n", ("parts", "top")),
        ("piece: a\nparts: {top: {shape: disc}}\n", ("parts", "top", "shape")),
        ("piece: a\n", ("parts", "leg")),
    ],
)
def test_what_cannot_be_taken_out_is_refused(text: str, path: tuple[str, ...]) -> None:
    with pytest.raises(EditError):
        edited(text, RemoveValue(path=path))
