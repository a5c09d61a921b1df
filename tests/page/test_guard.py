"""Who is let in: our own page on this machine, and nobody else. Nothing outside the folder is read or written."""

from __future__ import annotations

import errno
import json
import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from finplan.page.guard import MAX_BODY

ORIGIN = {"origin": "http://127.0.0.1:8999"}
BOTH = (("piece", "piece"), ("shop", "buffer"))
"""Of each file, a field that is edited."""
FORM = {"content-type": "application/x-www-form-urlencoded"}


def test_the_word_is_exchanged_for_a_cookie(stranger: TestClient) -> None:
    answer = stranger.get("/?word=a-word", follow_redirects=False)
    assert answer.status_code == 303
    assert answer.headers["location"] == "/"
    cookie = answer.headers["set-cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=Strict" in cookie
    assert stranger.get("/").status_code == 200


def test_nobody_without_the_word_gets_anything(stranger: TestClient) -> None:
    for path in ("/", "/piece/round-table.yaml", "/api/pieces", "/openapi.json", "/?word=another"):
        assert stranger.get(path, follow_redirects=False).status_code == 403, path


def test_a_program_shows_the_word(stranger: TestClient) -> None:
    assert stranger.get("/api/pieces", headers={"authorization": "Bearer a-word"}).json()["pieces"]
    assert stranger.get("/api/pieces", headers={"authorization": "Bearer another"}).status_code == 403


def test_another_host_is_refused(client: TestClient) -> None:
    for host in ("evil.example", "127.0.0.1", "127.0.0.1:80", "localhost:1", "", "[::1]:8999"):
        assert client.get("/", headers={"host": host}).status_code == 421, host


def test_what_another_page_sends_is_refused(client: TestClient, folder: Path) -> None:
    before = (folder / "round-table.yaml").read_bytes()
    data = {"path": '["timber"]', "value": "oak", "digest": "x"}
    for headers in (
        {"origin": "http://evil.example"},
        {"origin": "null"},
        {"origin": "http://127.0.0.1:9000"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
    ):
        assert client.post("/piece/round-table.yaml/edit", data=data, headers=headers).status_code == 403, headers
        assert (folder / "round-table.yaml").read_bytes() == before, headers


def test_a_link_from_elsewhere_shows_the_front_alone(client: TestClient) -> None:
    visit = {"sec-fetch-site": "cross-site", "sec-fetch-mode": "navigate"}
    assert client.get("/", headers=visit).status_code == 200
    assert client.get("/api/pieces", headers=visit).status_code == 403


def test_every_answer_allows_nothing_but_ourselves(client: TestClient) -> None:
    for path in ("/", "/piece/round-table.yaml", "/api/pieces", "/static/page.js", "/nothing"):
        policy = client.get(path).headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy


def test_pages_ask_for_nothing_outside_and_hold_no_script(client: TestClient) -> None:
    for path in ("/", "/piece/round-table.yaml", "/piece/round-table.yaml/file", "/new/round-table"):
        page = client.get(path).text
        outside = [one for one in page.split('"') if one.startswith(("http:", "https:", "//")) and "w3.org" not in one]
        assert outside == []
        assert " style=" not in page
        assert "javascript:" not in page
        assert page.count("<script") == page.count("<script src=")


def test_a_body_of_100_mb_is_not_read(client: TestClient) -> None:
    read = 0

    def sent() -> Iterator[bytes]:
        nonlocal read
        for _ in range(1600):
            read += 1 << 16
            yield b"x" * (1 << 16)

    answer = client.post("/piece/round-table.yaml/file", content=sent(), headers={**ORIGIN, **FORM})
    assert answer.status_code == 413
    long = {"content-length": str(100_000_000), "content-type": "application/x-www-form-urlencoded"}
    assert client.post("/piece/round-table.yaml/file", content=b"", headers=long).status_code == 413
    assert MAX_BODY < 10_000_000


def test_nothing_outside_the_folder_is_read(client: TestClient, folder: Path) -> None:
    secret = folder.parent / "secret.yaml"
    secret.write_text("piece: Secret\n")
    (folder / "link.yaml").symlink_to(secret)
    for name in (
        "../secret.yaml",
        "..%2fsecret.yaml",
        "%2e%2e/secret.yaml",
        "link.yaml",
        "shop.yaml",
        "inner%2fpiece.yaml",
        "nothing",
    ):
        for path in (f"/piece/{name}", f"/piece/{name}/file", f"/api/pieces/{name}", f"/piece/{name}/days"):
            answer = client.get(path)
            assert answer.status_code in (404, 405, 422), path
            assert "Secret" not in answer.text, path
        assert "link.yaml" not in client.get("/").text, name


def test_nothing_is_written_outside_the_folder(client: TestClient, folder: Path) -> None:
    before = sorted(os.listdir(folder.parent)), sorted(os.listdir(folder))
    for name in ("../new.yaml", "a/b.yaml", "shop.yaml", "new.txt", ".new.yaml", "", "nul\0.yaml", "x" * 119):
        answer = client.post("/api/pieces", json={"name": name, "words": "piece: New\n"}, headers=ORIGIN)
        assert answer.status_code == 422, name
        assert (sorted(os.listdir(folder.parent)), sorted(os.listdir(folder))) == before, name


def test_a_link_out_of_the_folder_is_not_written_through(client: TestClient, folder: Path) -> None:
    target = folder.parent / "target.yaml"
    target.write_text("piece: Target\n")
    (folder / "out.yaml").symlink_to(target)
    answer = client.put("/api/pieces/out.yaml", json={"digest": "x", "words": "piece: Gone\n"}, headers=ORIGIN)
    assert answer.status_code == 404
    assert target.read_text() == "piece: Target\n"


def test_names_that_are_html_are_words(client: TestClient, folder: Path) -> None:
    bad = "<script>alert(1)</script>"
    name = f"{bad.replace('/', '_')}.yaml"
    text = (folder / "round-table.yaml").read_text().replace("Round table for the mill reading room", bad)
    text = text.replace("  top:", f'  "{bad}":')
    (folder / name).write_text(text)
    for path in ("/", f"/piece/{name}", f"/piece/{name}/file", f"/piece/{name}/days"):
        page = client.get(path).text
        assert "<script>alert" not in page
        assert "&lt;script&gt;" in page or path.endswith("days")


def test_a_full_disk_is_said_and_nothing_is_half_written(
    client: TestClient, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Also where the piece cannot be written after the shop file was: that is then as before."""
    before = {file.name: file.read_bytes() for file in folder.iterdir() if file.is_file()}
    edits = {name: json.dumps([{"do": "set", "path": [path], "value": "2 d"}]) for name, path in BOTH}
    for fails_at in (1, 2):
        synced = iter(range(1, 100))

        def full(descriptor: int, fails_at: int = fails_at, synced: Iterator[int] = synced) -> None:
            if next(synced) == fails_at:
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

        monkeypatch.setattr("finplan.whole_file.os.fsync", full)
        digests = {"digest": client.get("/api/pieces/round-table.yaml").json()["digest"]}
        digests["shop_on"] = client.get("/api/shop").json()["digest"]
        answer = client.post("/piece/round-table.yaml/help", data={**edits, **digests})
        assert answer.status_code == 422
        assert "no space left on device" in answer.text
        assert {file.name: file.read_bytes() for file in folder.iterdir() if file.is_file()} == before


def test_a_folder_that_is_gone_is_said(client: TestClient, folder: Path) -> None:
    shutil.rmtree(folder)
    for path in ("/", "/bench", "/shop", "/api/pieces", "/api/shop", "/new/stool", "/piece/round-table.yaml"):
        assert client.get(path).status_code < 500, path
    assert "cannot be read: no such file" in client.get("/").text
    form = {"title": "Stool", "timber": "ash", "system": "hardwax-oil"}
    assert client.post("/new/stool", data=form).status_code == 422
    assert not folder.exists()


def test_a_shop_file_that_leads_out_of_the_folder_is_neither_read_nor_written(client: TestClient, folder: Path) -> None:
    secret = folder.parent / "secret.yaml"
    secret.write_text("shop: Secret shop\n")
    (folder / "shop.yaml").unlink()
    (folder / "shop.yaml").symlink_to(secret)
    assert "Secret" not in client.get("/shop").text
    assert client.put("/api/shop", json={"digest": None, "words": "shop: gone\n"}).status_code == 422
    client.post("/shop/begin")
    client.post("/new/stool", data={"title": "Stool", "timber": "ash", "system": "hardwax-oil"})
    assert secret.read_text() == "shop: Secret shop\n"
