"""What a file says of the whole piece: an old coating, steps beside the coats, a sample, all chosen on the page."""

from __future__ import annotations

import html
import json
import re
from collections.abc import Sequence
from pathlib import Path
from typing import NoReturn

import pytest
from fastapi.testclient import TestClient

from finplan.page.opened import Opened
from finplan.page.printed import plan_to_print
from finplan.planning import PlannedPiece
from finplan.problems import NotPossibleError

OLD = """\
piece: Linen press      # came with its paint
lengths: mm
timber: white-pine
system: shellac
deliver: 2027-03-19
assemblies:
  frame: {parts: [leg, rail]}
parts:
  top: {shape: rectangle, length: 900, width: 500, thickness: 24}
  leg: {shape: square-leg, side: 50, length: 700, count: 4}
  rail: {shape: board, length: 700, width: 90, thickness: 22, count: 4}
"""


class Piece:
    """A piece whose page is asked, and answers."""

    def __init__(self, client: TestClient, file: Path) -> None:
        file.write_text(OLD)
        self.client, self.file = client, file
        self.page = client.get("/piece/press.yaml").text

    def send(self, form: dict[str, str], to: str = "edit") -> str:
        digest = re.search(r'id="digest" name="digest" value="(\w+)"', self.page)
        assert digest is not None
        answer = self.client.post(f"/piece/press.yaml/{to}", data={"digest": digest[1], **form})
        assert answer.status_code == 200, answer.text
        self.page = answer.text
        return answer.text

    def choices(self, element: str) -> dict[str, str]:
        """What can be chosen in a list, with what is sent for it."""
        found = re.search(rf'<select id="{re.escape(element)}".*?</select>', self.page, re.DOTALL)
        assert found is not None, element
        options = re.findall(r'<option value="([^"]*)"[^>]*>([^<]*)', found[0])
        return {html.unescape(words): html.unescape(value) for value, words in options}

    def old(self, words: str) -> str:
        """Choose what becomes of the old coating."""
        return self.send({"piece": self.choices("old.way")[words], "shop": "[]", "shop_on": ""}, "help")

    @property
    def text(self) -> str:
        return self.file.read_text()


@pytest.fixture
def piece(client: TestClient, folder: Path) -> Piece:
    return Piece(client, folder / "press.yaml")


def test_an_old_piece_shows_what_its_paint_may_hold(piece: Piece) -> None:
    assert 'class="danger"' not in piece.page
    piece.old("Old coating dissolved with a gel stripper")
    built = {"do": "set", "path": '["refinish", "built"]', "value": "1890"}
    assert '<p class="danger"><strong>Old paint may hold lead.</strong>' in piece.send(built)
    assert "built 1890" in piece.page  # beside it, with what brings it
    assert "refinish: {strip: chemical, built: 1890}" in piece.text
    tested = piece.send({"do": "set", "path": '["refinish", "lead-test"]', "value": "clear"})
    assert 'class="danger"' not in tested
    piece.old("Old coating kept: cleaned, dulled and coated once more")
    assert "refinish: {built: 1890, lead-test: clear, keep: true}" in piece.text
    piece.old("None, or off already")
    assert "refinish: {built: 1890, lead-test: clear}" in piece.text
    piece.send({"do": "set", "path": '["refinish", "lead-test"]', "value": ""})
    piece.send({"do": "set", "path": '["refinish", "built"]', "value": ""})
    assert piece.text == OLD


def test_what_cannot_be_done_to_lead_is_said_where_it_is_chosen(piece: Piece) -> None:
    piece.send({"do": "set", "path": '["refinish", "built"]', "value": "1890"})
    (heat,) = (words for words in piece.choices("old.way") if "hot air" in words)
    assert "may hold lead" in piece.old(heat)
    assert 'aria-describedby="old.wrong"' in piece.page


@pytest.mark.parametrize("around", [[], ["parts", "top"], ["assemblies", "frame"]])
def test_steps_beside_the_coats_are_chosen_counted_and_taken_out(piece: Piece, around: list[str]) -> None:
    path = [*around, "before"]
    assert "Steam the dents" in piece.send({"do": "add", "path": json.dumps(path), "value": "steam-dents"})
    where = ".".join(map(str, [*path, 0]))
    first = json.dumps([*path, 0])
    if around:
        piece.send({"do": "number", "path": first, "name": "steam-dents", "value": "5"})
        assert "steam-dents: 5" in piece.text
        assert 'value="5"' in piece.page
        assert "is not a number of times" in piece.send(
            {"do": "number", "path": first, "name": "steam-dents", "value": "many"}
        )
        assert "steam-dents: 5" in piece.text
        holes = piece.choices(f"asked.{where}")["Stop holes and cracks"]
        piece.send({"do": "put", "path": first, "value": holes})
        assert "putty-holes: 5" in piece.text
        piece.send({"do": "number", "path": first, "name": "putty-holes", "value": ""})
    raised = piece.choices(f"asked.{where}")["Raise the grain"]
    piece.send({"do": "put", "path": first, "value": raised})
    assert "before: [raise-grain]" in piece.text
    assert "Lift off" not in piece.page  # another step brings it
    piece.send({"do": "remove", "path": first})
    assert "before" not in piece.text


def test_a_part_may_get_none_of_the_steps_of_the_piece(piece: Piece) -> None:
    piece.send({"do": "add", "path": '["after"]', "value": "wrap"})
    piece.send({"do": "put", "path": '["parts", "top", "after"]', "value": "[]"})
    assert "after: []" in piece.text
    assert "After the coats of top: as the piece says" in piece.page
    piece.send({"do": "remove", "path": '["parts", "top", "after"]'})
    assert "after: []" not in piece.text


def test_a_sample_is_asked_for_and_approved(piece: Piece) -> None:
    sample = {"do": "sample", "path": '["sample"]'}
    told = piece.send({**sample, "what": "approve by", "by": ""})
    assert "expected approve by 2027-01-20" in html.unescape(told)
    assert next(iter(piece.choices("sample.what").values())) == "approve by"
    assert piece.text == OLD
    piece.send({**sample, "what": "approve by", "by": "2027-02-10"})
    assert "sample: approve by 2027-02-10" in piece.text
    piece.send({**sample, "what": "approved", "by": "2027-02-09"})
    assert "sample: approved 2027-02-09" in piece.text
    piece.send({**sample, "what": "", "by": "2027-02-09"})
    assert piece.text == OLD


def test_a_sample_that_waits_for_approval_is_planned_and_printed_with_its_piece(
    piece: Piece, opened: Opened, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The process that plans the days plans it too: a timetable with its steps fits no plan without it."""
    held: list[Sequence[PlannedPiece]] = []

    def hold(pieces: Sequence[PlannedPiece], *_: object) -> NoReturn:
        held.append(pieces)
        raise NotPossibleError("nothing is held here")

    monkeypatch.setattr("finplan.page.printed.held_plan", hold)
    piece.send({"do": "sample", "path": '["sample"]', "what": "approve by", "by": "2027-02-10"})
    view = opened.session.view("press.yaml")
    with pytest.raises(NotPossibleError):
        plan_to_print(opened.session, view)
    assert view.reckoned.plan is not None
    assert [[one.sample for one in pieces] for pieces in (view.reckoned.plan.pieces, *held)] == [[False, True]] * 2
