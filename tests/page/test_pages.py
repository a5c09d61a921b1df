"""The pages without a browser: what they show, what an edit changes, and what is refused."""

from __future__ import annotations

import json
import re
import time
from html import unescape
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from finplan.page.folder import text_digest
from finplan.page.planner import DaysPlanner

TABLE = "/piece/round-table.yaml"


def digest(client: TestClient, name: str = "round-table.yaml") -> str:
    return str(client.get(f"/api/pieces/{name}").json()["digest"])


def edit(
    client: TestClient, *path: str | int, value: str, on: str | None = None, name: str = "round-table.yaml"
) -> str:
    data = {"do": "set", "path": json.dumps(path), "value": value, "digest": on or digest(client, name)}
    return client.post(f"/piece/{name}/edit", data=data).text


def test_the_workshop_lists_its_pieces(client: TestClient) -> None:
    page = client.get("/").text
    assert "Heron Yard workshop" in page
    for name in ("Round table for the mill reading room", "Hall bench", "Shelf for atlases"):
        assert name in page
    assert "in order: 2.96 m², of which 2.89 m² get finish" in page


def test_every_part_is_drawn_with_its_sizes_as_fields(client: TestClient) -> None:
    page = client.get(TABLE).text
    for label, value in (("top, diameter", "1050"), ("top, edge, above", "roundover 5"), ("apron, length", "600")):
        assert re.search(rf'value="{value}"[^>]*aria-label="{label}"', page)
    assert re.search(r'value="62"[^>]*aria-label="leg, element 3, bead, diameter"', page)
    ids = re.findall(r' id="([^"]+)"', page)
    assert len(ids) == len(set(ids))


def test_an_edit_changes_the_file_and_marks_what_came_of_it(client: TestClient, folder: Path) -> None:
    before = (folder / "round-table.yaml").read_text()
    page = edit(client, "parts", "top", "diameter", value="1100")
    assert (folder / "round-table.yaml").read_text() == before.replace("diameter: 1050", "diameter: 1100")
    assert "<del>1.81 m²</del>" in page
    assert "<ins>1.98 m²</ins>" in page
    assert "Surface, top: 1.81 m² is now 1.98 m²" in page


def test_what_would_be_a_mistake_is_not_taken_and_told_at_its_field(client: TestClient, folder: Path) -> None:
    before = (folder / "round-table.yaml").read_bytes()
    page = edit(client, "parts", "top", "thickness", value="0")
    assert (folder / "round-table.yaml").read_bytes() == before
    assert "&#39;0&#39; is zero; expected a length above zero" in page
    assert re.search(r'value="0"[^>]*aria-label="top, thickness"[^>]*aria-invalid="true"', page)


def test_what_is_tried_is_shown_and_not_written(client: TestClient, folder: Path) -> None:
    before = (folder / "round-table.yaml").read_bytes()
    data = {"path": '["parts", "top", "diameter"]', "value": "900", "digest": digest(client)}
    page = client.post(f"{TABLE}/try", data=data).text
    assert "<del>1.81 m²</del>" in page
    assert (folder / "round-table.yaml").read_bytes() == before


def test_an_edit_on_an_older_text_is_never_written_over_a_newer_one(client: TestClient, folder: Path) -> None:
    old = digest(client)
    file = folder / "round-table.yaml"
    file.write_text(file.read_text().replace("timber: ash", "timber: beech"))
    data = {"do": "set", "path": '["timber"]', "value": "cherry", "digest": old}
    answer = client.post(f"{TABLE}/edit", data=data)
    assert answer.status_code == 409
    assert "changed meanwhile" in answer.text
    assert '<option value="beech" selected>' in answer.text
    assert "timber: beech" in file.read_text()
    asked = {"digest": old, "edit": {"do": "set", "path": ["timber"], "value": "cherry"}}
    assert client.post("/api/pieces/round-table.yaml/edits", json=asked).status_code == 409


def test_what_is_refused_is_shown_to_the_page_and_told_to_programs(client: TestClient) -> None:
    old = {"do": "set", "path": '["timber"]', "value": "cherry", "digest": "0"}
    shown = client.post(f"{TABLE}/edit", data=old, headers={"hx-request": "true"})
    assert shown.status_code == 200
    assert "changed meanwhile" in shown.text
    assert client.post(f"{TABLE}/edit", data=old).status_code == 409


def test_what_has_to_be_there_is_not_cleared(client: TestClient, folder: Path) -> None:
    file = folder / "round-table.yaml"
    before = file.read_bytes()
    for path, told in (
        (("parts", "top", "thickness"), "field &#39;thickness&#39; is missing; it must be given"),
        (("parts", "top", "diameter"), "the circle has no size"),
        (("piece",), "field &#39;piece&#39; is missing"),
        (("parts", "leg", "elements", 2, "bead", "neck"), "field &#39;neck&#39; is missing"),
    ):
        assert f"not taken: {told}" in edit(client, *path, value="")
        assert file.read_bytes() == before
    edit(client, "customer", value="")
    assert b"customer" not in file.read_bytes()


def test_a_warning_is_shown_and_accepted_with_a_button(client: TestClient, folder: Path) -> None:
    page = edit(client, "deliver", value="2020-01-01")
    asked = [unescape(one) for one in re.findall(r'hx-vals="([^"]*accept[^"]*)"', page)]
    (past,) = (one for one in asked if "past-date" in one)
    page = client.post(f"{TABLE}/help", data={**json.loads(past), "digest": digest(client)}).text
    assert "accept: [past-date]" in (folder / "round-table.yaml").read_text()
    assert "warn of it again: past-date" in page
    assert not any(
        "past-date" in unescape(one) for one in re.findall(r'hx-vals="([^"]*accept[^"]*)"', page) if "add" in one
    )
    shop = folder / "shop.yaml"
    shop.write_text(shop.read_text().replace("holidays: GB-ENG\n", "").replace("volume: 60 m3", "volume: 1 m3"))
    page = client.get(TABLE).text
    (room,) = (unescape(one) for one in re.findall(r'hx-vals="([^"]*unlikely-room[^"]*)"', page))
    client.post(f"{TABLE}/help", data={**json.loads(room), "digest": digest(client)})
    assert "accept: [unlikely-room]" in shop.read_text()
    client.post(f"{TABLE}/undo", data={"digest": digest(client)})
    assert "accept" not in shop.read_text()


def test_every_edit_can_be_undone_and_done_again(client: TestClient, folder: Path) -> None:
    file = folder / "round-table.yaml"
    texts = [file.read_bytes()]
    for value in ("1000", "1100", "1200"):
        edit(client, "parts", "top", "diameter", value=value)
        texts.append(file.read_bytes())
    for text in texts[-2::-1]:
        client.post(f"{TABLE}/undo", data={"digest": digest(client)})
        assert file.read_bytes() == text
    for text in texts[1:]:
        client.post(f"{TABLE}/redo", data={"digest": digest(client)})
        assert file.read_bytes() == text


def test_a_face_is_covered_by_its_label(client: TestClient, folder: Path) -> None:
    page = edit(client, "parts", "top", "faces", "underside", "exposure", value="covered")
    assert "underside, covered" in page
    assert "faces: {underside: {exposure: covered}}" in (folder / "round-table.yaml").read_text()


def test_parts_are_added_renamed_and_taken_out(client: TestClient, folder: Path) -> None:
    file = folder / "round-table.yaml"
    before = file.read_bytes()
    url = f"{TABLE}/edit"
    client.post(url, data={"do": "add-shape", "shape": "rod", "part": "stretcher", "digest": digest(client)})
    assert "  stretcher:\n    shape: rod\n    diameter: 28\n    length: 700\n" in file.read_text()
    client.post(url, data={"do": "rename", "part": "stretcher", "to": "rung", "digest": digest(client)})
    assert "  rung:\n    shape: rod\n" in file.read_text()
    client.post(url, data={"do": "remove", "path": '["parts", "rung"]', "digest": digest(client)})
    assert file.read_bytes() == before


def test_every_shape_that_can_be_added_is_right_at_once(client: TestClient, folder: Path) -> None:
    shapes = re.findall(r"Add a ([a-z-]+)<", client.get(f"{TABLE}/shapes").text)
    assert len(shapes) == 15
    for name in ("round-table.yaml", "book-shelf.yaml"):
        for shape in shapes:
            data = {"do": "add-shape", "shape": shape, "part": "new", "digest": digest(client, name)}
            client.post(f"/piece/{name}/edit", data=data)
            told = client.get(f"/api/pieces/{name}").json()
            assert [one for one in told["problems"] if one["severity"] == "error"] == [], shape
            client.post(f"/piece/{name}/undo", data={"digest": told["digest"]})


def test_a_new_piece_from_each_form(client: TestClient, folder: Path) -> None:
    listed = re.findall(r'href="/new/([^"]+)"', client.get("/").text)
    assert len(listed) >= 12
    for form in listed:
        page = client.get(f"/new/{form}").text
        assert "Begin" in page
        timber, system = re.findall(r'<option value="([^"]+)" selected>', page)[:2]
        answer = client.post(f"/new/{form}", data={"title": f"My {form}", "timber": timber, "system": system})
        assert answer.status_code == 200
        assert f"My {form}" in answer.text
    assert len(list(folder.glob("my-*.yaml"))) == len(listed)
    refused = client.post("/new/kept-table", data={"title": "Odd", "timber": "ash", "system": "hardwax-oil"})
    assert refused.status_code == 422
    assert "over an old film that is kept" in refused.text


def test_an_answer_that_cannot_be_taken_is_told_at_its_question(client: TestClient, folder: Path) -> None:
    data = {"title": "Odd", "timber": "ash", "system": "hardwax-oil", "size.diameter": "wide"}
    answer = client.post("/new/round-table", data=data)
    assert answer.status_code == 422
    assert not (folder / "odd.yaml").exists()
    told = client.post("/new/round-table", data={**data, "deliver": "soon", "size.height": "-3"}).text
    wrong = dict(re.findall(r'<span class="wrong" id="wrong\.([^"]*)">([^<]*)', told))
    assert list(wrong) == ["deliver", "diameter", "height"]
    for name in wrong:
        assert f'aria-describedby="wrong.{name}"' in told
    assert 'value="wide"' in told


def test_the_file_with_its_problems_beside_their_lines(client: TestClient, folder: Path) -> None:
    file = folder / "round-table.yaml"
    text = file.read_text().replace("timber: ash", "timber: ahs").replace("shape: disc", "shape: disk")
    answer = client.post(f"{TABLE}/file", data={"words": text, "digest": digest(client)})
    assert file.read_text() == text
    assert "line 6" in answer.text
    assert "did you mean &#39;ash&#39;?" in answer.text
    page = client.get(TABLE).text
    assert "did you mean &#39;disc&#39;?" in page
    assert 'aria-label="apron, length"' in page  # what is right of it still stands


def test_words_from_right_to_left_go_back_into_the_file_as_they_were(client: TestClient, folder: Path) -> None:
    file = folder / "round-table.yaml"
    text = file.read_text().replace("Round table for", "שולחן for").replace("apron", "رجل")
    file.write_text(text, encoding="utf-8")
    shown = re.search(r"<textarea [^>]*>\n(.*?)</textarea>", client.get(f"{TABLE}/file").text, re.DOTALL)
    assert shown is not None
    client.post(f"{TABLE}/file", data={"words": unescape(shown[1]), "digest": digest(client)})
    assert file.read_text(encoding="utf-8") == text
    page = client.get(TABLE).text
    assert 'value="رجل"' in page
    assert not re.findall(r'="[^"]*<bdi>', page)
    assert "<bdi>رجل</bdi>" in page


def test_a_text_that_is_no_yaml_is_shown_and_put_right_in_its_text(client: TestClient, folder: Path) -> None:
    (folder / "odd.yaml").write_text("piece: [")
    page = client.get("/piece/odd.yaml").text
    assert "put it right in its text" in page
    assert "is not well-formed YAML" in client.get("/piece/odd.yaml/file").text


@pytest.mark.usefixtures("days_beside")
def test_the_days_are_planned_beside(client: TestClient) -> None:
    until = time.monotonic() + 60
    while "At the very latest" not in (page := client.get(f"{TABLE}/days").text):
        assert time.monotonic() < until, page
        time.sleep(0.1)
    assert "the date is kept in" in page
    assert "Oily cloths" in page
    told = client.get("/api/pieces/round-table.yaml/days").json()
    assert told["state"] == "planned"
    assert told["fits"] is True


@pytest.mark.usefixtures("days_beside")
def test_what_would_help_can_be_done_with_a_button_and_taken_back(client: TestClient, folder: Path) -> None:
    edit(client, "deliver", value="2027-01-15 11:00")
    planned(client)
    page = client.get(f"{TABLE}/days").text
    assert "This does not fit." in page
    files = (folder / "round-table.yaml", folder / "shop.yaml")
    before = [file.read_text() for file in files]
    sent = [
        (told, json.loads(unescape(vals)), " ".join(unescape(re.sub(r"<[^>]*>", "", writes)).split()))
        for told, vals, writes in re.findall(
            r'aria-label="do this: ([^"]*)"[^>]*/help"[^>]*hx-vals="([^"]*)"[^>]*>Do this</button>(.*?)</li>',
            page,
            re.S,
        )
    ]
    assert {"keep", "one", "system", "deliver"} <= {told.split()[0] for told, _, _ in sent}
    with pytest.MonkeyPatch.context() as idle:
        idle.setattr(DaysPlanner, "want", lambda *_: None)  # nobody looks at the days of what is taken back at once
        for told, vals, writes in sent:
            answer = client.post(f"{TABLE}/help", data={**vals, "digest": digest(client)})
            assert answer.status_code == 200, told
            texts = [file.read_text() for file in files]
            changed = [
                name for name, one, other in zip(("round-table", "shop"), before, texts, strict=True) if one != other
            ]
            assert changed == ["shop" if told.startswith("keep") else "round-table"]
            assert f"writes into {changed[0]}.yaml: " in writes
            old, new = (text.splitlines() for text in (before[changed[0] == "shop"], texts[changed[0] == "shop"]))
            others = [line for line in old if line not in new]
            assert len(others) <= (3 if told.startswith("one") else 1)  # one coat less is said of every part
            client.post(f"{TABLE}/undo", data={"digest": digest(client)})
            assert [file.read_text() for file in files] == before
        client.post(f"{TABLE}/redo", data={"digest": digest(client)})
        assert files[0].read_text() != before[0]
        client.post(f"{TABLE}/undo", data={"digest": digest(client)})
    heat = next(vals for told, vals, _ in sent if told.startswith("keep"))
    client.post(f"{TABLE}/help", data={**heat, "digest": digest(client)})
    assert "night: {temperature: 16 degC" in files[1].read_text()
    planned(client)
    assert client.get("/api/pieces/round-table.yaml/days").json()["fits"] is True
    files[1].write_text(files[1].read_text().replace("buffer: 1 d", "buffer: 2 d"))
    refused = client.post(f"{TABLE}/undo", data={"digest": digest(client)})
    assert refused.status_code == 409
    assert "shop.yaml was changed meanwhile" in refused.text
    assert client.post(f"{TABLE}/help", data={**heat, "digest": digest(client)}).status_code == 409
    assert "buffer: 2 d" in files[1].read_text()


def test_where_there_is_no_shop_file_one_is_begun_first(client: TestClient, folder: Path) -> None:
    shop = folder / "shop.yaml"
    shop.unlink()
    before = (folder / "round-table.yaml").read_bytes()
    answer = client.post(f"{TABLE}/begin-shop", data={"digest": digest(client)})
    assert "shop.yaml is begun" in answer.text
    assert shop.read_text().startswith("# The workshop, begun with 'finplan new'")
    client.post(f"{TABLE}/undo", data={"digest": digest(client)})
    assert not shop.exists()
    page = client.post("/new/stool", data={"title": "First stool", "timber": "ash", "system": "hardwax-oil"})
    assert "shop.yaml was begun with it" in page.text
    assert shop.exists()
    assert (folder / "round-table.yaml").read_bytes() == before
    text = client.get("/shop").text
    assert "holds for every piece of this folder" in text
    wrong = shop.read_text().replace("time-zone: UTC", "time-zone: Nowhere/Town")
    shown = client.post("/shop", data={"words": wrong, "digest": text_digest(shop.read_text())}).text
    assert "Nowhere/Town" in shown
    assert "time-zone" in shown
    assert client.post("/shop", data={"words": "shop: x", "digest": "old"}).status_code == 409


def planned(client: TestClient, name: str = "round-table.yaml") -> None:
    until = time.monotonic() + 60
    while client.get(f"/api/pieces/{name}/days").json()["state"] != "planned":
        assert time.monotonic() < until
        time.sleep(0.1)


@pytest.mark.usefixtures("days_beside")
def test_what_is_printed_is_held_and_then_shown(client: TestClient, folder: Path) -> None:
    planned(client)
    assert "Sheet as PDF" in client.get(f"{TABLE}/print").text
    sheet = client.get(f"{TABLE}/sheet")
    assert "Finishing schedule" in sheet.text
    assert "script-src" not in sheet.headers["content-security-policy"]
    assert not (folder / "finplan.ledger").exists()  # looked at, not held
    calendar = client.post(f"{TABLE}/calendar.ics")
    assert calendar.content.startswith(b"BEGIN:VCALENDAR")
    assert calendar.headers["content-disposition"] == "attachment; filename*=UTF-8''round-table.ics"
    assert (folder / "finplan.ledger").exists()
    assert "plan 1" in client.get(f"{TABLE}/sheet").text


def test_what_cannot_be_printed_says_why(client: TestClient) -> None:
    edit(client, "timber", value="")
    answer = client.post(f"{TABLE}/sheet.pdf")
    assert answer.status_code == 422
    assert "put right before it can be printed" in answer.text


def test_what_an_editor_leaves_empty_for_a_moment_is_no_text_to_go_back_to(client: TestClient, folder: Path) -> None:
    file = folder / "round-table.yaml"
    edit(client, "parts", "top", "diameter", value="1100")
    ours = file.read_text()
    file.write_text("")
    client.get(TABLE)
    file.write_text(ours[:200])  # half of it, as it is saved
    client.get(TABLE)
    file.write_text(ours.replace("timber: ash", "timber: beech"))
    client.get(TABLE)
    client.post(f"{TABLE}/undo", data={"digest": digest(client)})
    assert file.read_text() == ours
