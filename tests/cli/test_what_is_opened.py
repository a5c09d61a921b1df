"""What a sheet of a hostile piece reaches for: no address of the net, no other program, no file that is not its own."""

from __future__ import annotations

import os
import subprocess
import sys
import sysconfig
from pathlib import Path

import finplan
from tests.conftest import EXAMPLE

_HOOK = """\
import os, sys
_log = os.open(os.environ["AUDIT_LOG"], os.O_WRONLY | os.O_APPEND)
_TOLD = ("socket.", "urllib.", "subprocess.", "os.exec", "os.spawn", "os.posix_spawn", "os.system", "http.", "ftplib.")
def _told(event, what):
    if event == "open" or event.startswith(_TOLD):
        os.write(_log, f"{event}\\t{str(what[0])[:200]!r}\\n".encode("utf-8", "backslashreplace"))
sys.addaudithook(_told)
"""

HOSTILE = (
    EXAMPLE.replace("Reading table, village library", "'<img src=http://example.invalid/a.png><b>'")
    .replace("Reading room committee", "'\"><style>@import url(file:///etc/passwd)</style>{{ 7*7 }}'")
    .replace("apron", "'url(http://example.invalid) ../../etc/passwd'")
)


def test_a_hostile_piece_reaches_for_nothing(tmp_path: Path) -> None:
    work, hook, scratch = (tmp_path / name for name in ("work", "hook", "scratch"))
    for folder in (work, hook, scratch):
        folder.mkdir()
    (hook / "sitecustomize.py").write_text(_HOOK, encoding="utf-8")
    (work / "piece.yaml").write_text(HOSTILE, encoding="utf-8")
    (work / "shop.yaml").write_text("shop: '<link rel=stylesheet href=http://example.invalid>'\n", encoding="utf-8")
    log = tmp_path / "log"
    log.touch()
    root = Path(finplan.__file__).parents[1]
    command = ["sheet", "piece.yaml", "--shop", "shop.yaml", "-o", "out.pdf", "--from", "2027-03-01"]
    paths = os.pathsep.join([str(hook), str(root)])
    ended = subprocess.run(
        [sys.executable, "-m", "finplan", *command],
        cwd=work,
        env={**os.environ, "PYTHONPATH": paths, "AUDIT_LOG": str(log), "TMPDIR": str(scratch)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert ended.returncode == 0, ended.stderr
    assert (work / "out.pdf").read_bytes().startswith(b"%PDF")
    events = [line.split("\t", 1) for line in log.read_text(encoding="utf-8").splitlines()]
    # The fonts of a page are in it as data, which the page renderer opens as it would an address.
    kinds = {event for event, what in events if not (event == "urllib.Request" and what.startswith("'data:"))}
    assert kinds <= {"open", "subprocess.Popen"}, kinds
    started = [what for event, what in events if event == "subprocess.Popen"]
    assert len(started) == 1  # the page renderer, which is this program
    assert sys.executable in started[0]
    python = (sysconfig.get_path(name) for name in ("stdlib", "platstdlib", "purelib", "platlib"))
    machine = ("/usr/share/zoneinfo", "/proc/self", "/dev/null")
    ours = [root, tmp_path, *map(Path, (*python, sys.prefix, sys.base_prefix, *machine))]
    opened = {what.strip("'\"") for event, what in events if event == "open" and what[:1] in "'\""}
    foreign = {name for name in opened if not any((work / name).is_relative_to(folder) for folder in ours)}
    assert foreign <= {"/etc/localtime", "/etc/mime.types", "/dev/urandom"}, foreign
    assert any(name.endswith("piece.yaml") for name in opened)
    assert not any("passwd" in name for name in opened)
