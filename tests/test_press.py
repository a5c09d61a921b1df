"""The page renderer in a process of its own does just what it does here."""

from __future__ import annotations

import errno
import os
import signal
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

from finplan.press import NoPageRendererError, Press, RendererFaultError, pdf_bytes
from finplan.problems import NotPossibleError

pytestmark = pytest.mark.usefixtures("own_press")

PAGE = "<html lang=en><title>Łódź</title><h1>Łódź, Čapek & friends</h1>"


def test_the_same_bytes_as_here() -> None:
    with Press() as press:
        assert press.pdf(PAGE) == pdf_bytes(PAGE)


@pytest.mark.parametrize("address", ["file:///etc/passwd", "http://example.invalid/x.png"])
def test_it_follows_no_address_either(address: str) -> None:
    with Press() as press, pytest.raises(NotPossibleError, match="complains"):
        press.pdf(f'{PAGE}<img alt="x" src="{address}">')


def test_a_library_that_is_missing_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    lost = "print('-----')\nraise OSError(\"cannot load library 'libpango-1.0-0': no such file\")\n"
    (tmp_path / "weasyprint.py").write_text(lost, encoding="utf-8")
    monkeypatch.syspath_prepend(tmp_path)
    with Press() as press, pytest.raises(NoPageRendererError, match="is missing"):
        press.pdf(PAGE)


def test_one_that_ends_without_a_word_is_no_page(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "weasyprint.py").write_text("import os\nos._exit(139)\n", encoding="utf-8")
    monkeypatch.syspath_prepend(tmp_path)
    with Press() as press, pytest.raises(NotPossibleError, match="ended without a word"):
        press.pdf(PAGE)


def test_what_lies_in_the_folder_is_not_run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder with pieces may come from a stranger, with a module of a well-known name in it."""
    (tmp_path / "weasyprint.py").write_text("raise OSError('run')\n", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(sys, "path", [path for path in sys.path if path])
    with Press() as press:
        assert press.pdf(PAGE).startswith(b"%PDF")


def test_no_other_program_is_started_to_look_for_libraries() -> None:
    looked = (
        "import subprocess, sys\n"
        "started = []\n"
        "sys.addaudithook(lambda event, what: event in ('subprocess.Popen', 'os.posix_spawn', 'os.system') "
        "and started.append(what[0]))\n"
        "from finplan.press import pdf_bytes\n"
        "pdf_bytes('<html lang=en><title>A</title><p>A')\n"
        "print(started)\n"
    )
    ended = subprocess.run([sys.executable, "-c", looked], capture_output=True, text=True, check=True)
    assert sys.platform != "linux" or ended.stdout == "[]\n"


def test_its_own_fault_is_not_taken_for_a_complaint(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "weasyprint.py").write_text("raise ZeroDivisionError('odd')\n", encoding="utf-8")
    monkeypatch.syspath_prepend(tmp_path)
    with Press() as press, pytest.raises(RendererFaultError, match="odd"):
        press.pdf(PAGE)


def test_a_disk_that_is_full_is_no_fault_of_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object, **__: object) -> bytes:
        raise OSError(errno.ENOSPC, "No space left on device")

    with monkeypatch.context() as without_folder:
        without_folder.setattr("tempfile.tempdir", str(tmp_path / "gone"))
        with pytest.raises(NotPossibleError, match="temporary files: no such file or directory; make room"):
            pdf_bytes(PAGE)
    monkeypatch.setattr("weasyprint.HTML.write_pdf", full)
    with pytest.raises(NotPossibleError, match="temporary files: no space left on device; make room"):
        pdf_bytes(PAGE)


def test_a_page_that_takes_too_long_is_given_up(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "weasyprint.py").write_text("import time\ntime.sleep(600)\n", encoding="utf-8")
    monkeypatch.syspath_prepend(tmp_path)
    monkeypatch.setattr("finplan.press.LIMIT_S", 0.5)
    with Press() as press, pytest.raises(NotPossibleError, match="took longer than"):
        press.pdf(PAGE + "x" * 1_000_000)  # more than a pipe holds, so that it is waited for in writing too


def test_one_that_is_not_used_ends() -> None:
    with Press() as press:
        process = press._process
    assert process.returncode is not None


@pytest.mark.skipif(os.name != "posix", reason="signals are of POSIX")
def test_a_break_just_when_its_folder_is_made_leaves_none(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    made = tempfile.mkdtemp

    def broken(*given: str, **named: str) -> str:
        folder = made(*given, **named)
        signal.raise_signal(signal.SIGINT)
        return folder

    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    monkeypatch.setattr(tempfile, "mkdtemp", broken)
    # A library that another test loaded may have let it end the process.
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    try:
        with pytest.raises(KeyboardInterrupt):
            pdf_bytes("<html lang=en><title>Lid</title><p>Lid")
    finally:
        signal.signal(signal.SIGINT, before)
    assert list(tmp_path.iterdir()) == []
