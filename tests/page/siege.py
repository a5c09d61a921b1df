"""Beset the server as a stranger on this machine or a hostile page would, and count what it lets through.

Run as ``python -m tests.page.siege [--connections 1000]``, on the program itself over real sockets. Nothing outside the
folder may be read or written, no answer may be the server's own failure, and who is let in has to be served meanwhile.
"""

from __future__ import annotations

import argparse
import hashlib
import http.client
import json
import socket
import subprocess
import sys
import tempfile
import time
import urllib.parse
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from finplan.demo import write_demo

_OUTSIDE = "what is of the house next door"
_HTML = "<img src=x onerror=alert(1)>"
_MANY_BYTES = 100_000_000
_PIECE = "/piece/round-table.yaml"


@dataclass
class Siege:
    """A server that is beset, and what went wrong."""

    host: str
    port: int
    word: str
    wrong: list[str] = field(default_factory=list)
    asked: int = 0

    def ask(
        self,
        method: str,
        path: str,
        headers: dict[str, str] | None = None,
        body: bytes | None = None,
        *,
        let_in: bool = True,
    ) -> tuple[int, bytes]:
        """Send a request as it is written, and return status and body."""
        self.asked += 1
        connection = http.client.HTTPConnection(self.host, self.port, timeout=60)
        given = {"Host": f"{self.host}:{self.port}", **(headers or {})}
        if let_in:
            given["Authorization"] = f"Bearer {self.word}"
        connection.putrequest(method, path, skip_host=True, skip_accept_encoding=True)
        for name, value in given.items():
            connection.putheader(name, value)
        if body is not None and "Content-Length" not in given:
            connection.putheader("Content-Length", str(len(body)))
        connection.endheaders()
        with suppress(BrokenPipeError, ConnectionResetError):  # it need not listen to the end
            connection.send(body or b"")
        try:
            answer = connection.getresponse()
            found = answer.status, answer.read()
        except (ConnectionResetError, http.client.RemoteDisconnected):
            found = 0, b""
        connection.close()
        if found[0] >= 500:
            self.wrong.append(f"{method} {path[:80]}: {found[0]}")
        if _OUTSIDE.encode() in found[1]:
            self.wrong.append(f"{method} {path[:80]}: tells what is outside the folder")
        return found

    def refused(self, told: str, status: tuple[int, ...], found: tuple[int, bytes]) -> None:
        """Note what was answered otherwise than by one of the statuses."""
        if found[0] not in status:
            self.wrong.append(f"{told}: {found[0]}, expected {status}")


def _ways_out() -> Iterator[str]:
    for way in ("..", "%2e%2e", "..%2f..", "....//", "%252e%252e", "..%5c", "%00", "/etc", "~", "link", "up"):
        for end in ("/secret.yaml", "%2fsecret.yaml", "/etc/passwd", ".yaml", ""):
            yield f"{way}{end}"


def _without_leave(siege: Siege) -> None:
    host = f"{siege.host}:{siege.port}"
    for other in (
        "evil.example",
        f"evil.example:{siege.port}",
        siege.host,
        f"{host}.evil.example",
        "",
        "[::1]",
        f"{host}@x",
    ):
        for path in ("/", _PIECE, "/api/pieces", "/static/page.js"):
            siege.refused(f"Host {other}", (400, 421), siege.ask("GET", path, {"Host": other}))
    form = {"Content-Type": "application/x-www-form-urlencoded"}
    edit = urllib.parse.urlencode({"do": "set", "path": '["timber"]', "value": "oak", "digest": "x"}).encode()
    strange = [{"Origin": one} for one in ("http://evil.example", "null", f"https://{host}", f"http://{siege.host}:1")]
    strange += [{"Sec-Fetch-Site": one} for one in ("cross-site", "same-site")]
    for headers in strange:
        for path in (
            f"{_PIECE}/edit",
            f"{_PIECE}/undo",
            f"{_PIECE}/file",
            "/shop",
            "/new/stool",
            f"{_PIECE}/bench/tick",
        ):
            siege.refused(f"{path} of {headers}", (403,), siege.ask("POST", path, {**form, **headers}, edit))
    for path in ("/", _PIECE, "/api/pieces", "/openapi.json", "/docs", "/shop", "/bench", "/share", "/?word=guessed"):
        siege.refused(f"{path} without the word", (403,), siege.ask("GET", path, let_in=False))
        siege.refused(
            f"{path} with another", (403,), siege.ask("GET", path, {"Authorization": "Bearer guessed"}, let_in=False)
        )
        siege.refused(f"{path} with a cookie", (403,), siege.ask("GET", path, {"Cookie": "finplan=1; a"}, let_in=False))


def _out_of_the_folder(siege: Siege) -> None:
    words = json.dumps({"digest": "x", "words": "piece: gone\n"}).encode()
    as_json = {"Content-Type": "application/json"}
    for way in _ways_out():
        for path in (f"/piece/{way}", f"/piece/{way}/file", f"/api/pieces/{way}", f"/static/{way}", f"/{way}"):
            siege.refused(f"GET {path}", (0, 307, 400, 403, 404, 405, 422), siege.ask("GET", path))
        siege.refused(
            f"PUT {way}", (0, 307, 400, 404, 405, 422), siege.ask("PUT", f"/api/pieces/{way}", as_json, words)
        )
        new = json.dumps({"name": urllib.parse.unquote(way), "words": "piece: gone\n"}).encode()
        # Some are odd names and no way out: those are files of the folder.
        siege.refused(f"POST {way}", (0, 201, 400, 422), siege.ask("POST", "/api/pieces", as_json, new))


def _too_much(siege: Siege) -> None:
    form = {"Content-Type": "application/x-www-form-urlencoded"}
    many = b"x" * _MANY_BYTES
    for path in (f"{_PIECE}/file", f"{_PIECE}/edit", "/shop", "/new/stool"):
        siege.refused(f"100 MB to {path}", (0, 413), siege.ask("POST", path, form, many))
    siege.refused(
        "100 MB of JSON", (0, 413), siege.ask("POST", "/api/pieces", {"Content-Type": "application/json"}, many)
    )
    siege.refused("a long address", (0, 400, 404, 414, 422), siege.ask("GET", "/piece/" + "a" * 200_000))
    siege.refused(
        "many fields", (400, 422), siege.ask("POST", "/new/stool", form, b"&".join(b"a%d=1" % n for n in range(9999)))
    )
    siege.refused("a deep path", (422,), siege.ask("POST", f"{_PIECE}/edit", form, b"path=" + b"[" * 100_000))


def _connected(siege: Siege, connections: int) -> tuple[int, float]:
    """Hold connections that say nothing or half of something; return how many stand, and how long a page takes."""
    held = []
    for number in range(connections):
        try:
            one = socket.create_connection((siege.host, siege.port), timeout=10)
        except OSError:
            break
        if number % 2:
            one.sendall(b"GET / HTTP/1.1\r\nHost: 127.0.0.1\r\nX-Slow: ")
        held.append(one)
    begun = time.perf_counter()
    siege.refused(f"a page beside {len(held)} connections", (200,), siege.ask("GET", _PIECE))
    took = time.perf_counter() - begun
    for one in held:
        one.close()
    return len(held), took


@contextmanager
def _served(folder: Path) -> Iterator[Siege]:
    command = [sys.executable, "-m", "finplan", "open", str(folder), "--no-browser"]
    server = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
    assert server.stdout is not None
    address = urllib.parse.urlsplit(server.stdout.readline().strip())
    try:
        yield Siege(str(address.hostname), address.port or 0, urllib.parse.parse_qs(address.query)["word"][0])
    finally:
        server.terminate()
        server.wait()


def _digests(around: Path) -> dict[str, str]:
    return {
        str(file.relative_to(around)): hashlib.sha256(file.read_bytes()).hexdigest()
        for file in sorted(around.rglob("*"))
        if file.is_file() and "finplan.ledger" not in file.name
    }


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--connections", type=int, default=1000)
    connections = parser.parse_args().connections
    with tempfile.TemporaryDirectory() as name:
        around, folder = Path(name), Path(name) / "workshop"
        folder.mkdir()
        write_demo(folder, date(2027, 1, 11))
        (around / "secret.yaml").write_text(f"piece: {_OUTSIDE}\n", encoding="utf-8")
        (folder / "link.yaml").symlink_to(around / "secret.yaml")
        (folder / "up").symlink_to(around)
        (folder / f"{_HTML}.yaml").write_text(
            (folder / "round-table.yaml").read_text(encoding="utf-8").replace("  top:", f"  '{_HTML}':"),
            encoding="utf-8",
        )
        before = _digests(around)
        with _served(folder) as siege:
            siege.ask("GET", _PIECE)
            _without_leave(siege)
            _out_of_the_folder(siege)
            for path in (
                "/",
                f"/piece/{urllib.parse.quote(_HTML)}.yaml",
                f"/piece/{urllib.parse.quote(_HTML)}.yaml/file",
            ):
                if _HTML.encode() in siege.ask("GET", path)[1]:
                    siege.wrong.append(f"{path}: a name is read as HTML")
            _too_much(siege)
            stand, took = _connected(siege, connections)
            siege.refused("a page afterwards", (200,), siege.ask("GET", _PIECE))
        after = _digests(around)
        siege.wrong += [f"{file} was changed" for file, digest in before.items() if after.get(file) != digest]
        siege.wrong += [f"{file} is new" for file in after if file not in before and not file.startswith("workshop/")]
    print(f"{siege.asked} requests, {stand} connections at once, beside which a page took {took:.2f} s")  # noqa: T201 - that is what it is for
    print("\n".join(siege.wrong) or "nothing was let through, nothing failed")  # noqa: T201
    sys.exit(bool(siege.wrong))


if __name__ == "__main__":
    main()
