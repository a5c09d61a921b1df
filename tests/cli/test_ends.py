"""How commands end: by a fault of their own, for want of memory, by signals, with streams closed; what they leave."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import tempfile
import time
import weakref
from pathlib import Path

import pytest

from finplan.cli.run import run
from finplan.problems import NotPossibleError
from finplan.whole_file import write_whole
from tests.conftest import EXAMPLE, Cli

FINPLAN = [sys.executable, "-m", "finplan"]
DAY = ["--from", "2027-03-01"]
SMALL = """\
piece: Reading table
timber: ash
system: soap
lengths: mm
parts: {top: {shape: board, length: 400, width: 300, thickness: 20}}
"""
"""A piece that is planned in no time: how commands end does not hang on what they plan."""


@pytest.fixture
def example(tmp_path: Path) -> Path:
    file = tmp_path / "table.yaml"
    file.write_text(SMALL, encoding="utf-8")
    return file


# --- faults ---------------------------------------------------------------------------------------------------------


def test_a_fault_of_its_own_is_one_sentence_and_a_report(
    example: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    def fail(*_: object) -> None:
        raise RuntimeError("nobody thought of this")

    monkeypatch.setattr("finplan.cli.areas.areas_lines", fail)
    monkeypatch.chdir(tmp_path)
    ended = cli("areas", example)
    assert ended.status == 70
    assert ended.out == ""
    assert ended.err.startswith("finplan has made a mistake of its own and stops here: what happened is written in ")
    assert ended.err.count("\n") == 1
    (report,) = tmp_path.glob("finplan-report-*.txt")
    text = report.read_text(encoding="utf-8")
    assert "RuntimeError: nobody thought of this" in text
    assert f"command: 'finplan' 'areas' '{example}'" in text
    assert cli("areas", example).status == 70
    assert len(list(tmp_path.glob("finplan-report-*.txt"))) == 2


@pytest.mark.skipif(os.name != "posix", reason="a limit of POSIX")
def test_a_report_that_cannot_be_written_leaves_no_file(tmp_path: Path) -> None:
    """Where nothing can be written, there is no folder for temporary files either."""
    full = (
        "import resource, sys; from finplan.cli.report import write_report; "
        "resource.setrlimit(resource.RLIMIT_FSIZE, (1, 1)); print(write_report(ValueError(), []))"
    )
    ended = subprocess.run([sys.executable, "-c", full], cwd=tmp_path, capture_output=True, text=True, check=False)
    assert (ended.stdout, ended.stderr) == ("None\n", "")
    assert list(tmp_path.iterdir()) == []


def test_where_no_report_can_be_kept_the_sentence_says_what_it_is(
    example: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("finplan.cli.areas.areas_lines", lambda *_: 1 / 0)
    monkeypatch.setattr("finplan.cli.report.write_report", lambda *_: None)
    assert "it is a ZeroDivisionError" in cli("areas", example).err


def test_want_of_memory_is_told(example: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_: object) -> None:
        raise MemoryError

    monkeypatch.setattr("finplan.cli.areas.areas_lines", fail)
    ended = cli("areas", example)
    assert ended.status == 70
    assert ended.err == (
        "this takes more memory than there is; plan fewer pieces at a time, or a piece of fewer parts\n"
    )


@pytest.mark.skipif(sys.platform != "linux", reason="other machines do not keep to the limit")
def test_memory_has_a_bound() -> None:
    code = "import sys; from finplan.cli.run import run; sys.exit(run(lambda: bytearray(5 << 30)))"
    ended = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert (ended.returncode, ended.stderr.split(";")[0]) == (70, "this takes more memory than there is")


# --- streams --------------------------------------------------------------------------------------------------------


ONE_AFTER_ANOTHER = """
import json, sys
from finplan.cli import main

for words in json.loads(sys.argv[1]):
    sys.argv = ["finplan", *words]
    try:
        main()
    except SystemExit as ended:
        if ended.code:
            raise
"""


def test_json_is_utf_8_wherever_it_goes(tmp_path: Path) -> None:
    file = tmp_path / "piece.yaml"
    file.write_text(SMALL.replace("Reading table", "Łódź tąble 台"), encoding="utf-8")
    commands = [["timetable", str(file), "--json", *DAY], ["plan", str(file), *DAY], ["areas", str(file), "--json"]]
    ended = subprocess.run(
        [sys.executable, "-c", ONE_AFTER_ANOTHER, json.dumps(commands)],
        env={**os.environ, "PYTHONIOENCODING": "latin-1", "PYTHONUTF8": "0"},
        capture_output=True,
        check=False,
    )
    assert ended.returncode == 0, ended.stderr
    told, decoder = ended.stdout.decode("utf-8").strip(), json.JSONDecoder()
    for _ in commands:
        one, end = decoder.raw_decode(told)
        assert "Łódź tąble 台" in json.dumps(one, ensure_ascii=False)
        told = told[end:].strip()
    assert told == ""


@pytest.mark.skipif(os.name != "posix", reason="a shell closes the streams")
def test_closed_streams(example: Path, tmp_path: Path, cli: Cli) -> None:
    shell = f"{' '.join(FINPLAN)} areas {example}"
    ended = subprocess.run(["sh", "-c", f"{shell} 2>&-"], capture_output=True, text=True, check=False)
    assert (ended.returncode, ended.stdout) == (0, cli("areas", example).out)
    told = subprocess.run(["sh", "-c", f"{shell} >&-"], capture_output=True, check=False)
    assert told.returncode == 1
    assert b"the output cannot be written" in told.stderr
    assert b"Traceback" not in told.stderr
    output = tmp_path / "drawings"
    drawn = subprocess.run(["sh", "-c", f"{' '.join(FINPLAN)} draw {example} -o {output} <&- 2>&-"], check=False)
    assert drawn.returncode == 0
    assert all(file.read_text(encoding="utf-8").startswith("<svg") for file in output.iterdir())


# --- outputs --------------------------------------------------------------------------------------------------------


def test_no_output_is_an_input_under_any_name(tmp_path: Path, cli: Cli) -> None:
    from finplan.reading import parse_document

    piece, shop = tmp_path / "in.json", tmp_path / "shop.json"
    piece.write_text(json.dumps(parse_document(EXAMPLE, piece).data), encoding="utf-8")
    shop.write_text('{"shop": "Yard"}', encoding="utf-8")
    (tmp_path / "link.json").symlink_to(piece)
    (tmp_path / "hard.json").hardlink_to(shop)
    (tmp_path / "x").mkdir()
    before = piece.read_bytes(), shop.read_bytes()
    for name in ("in.json", "shop.json", "link.json", "hard.json", "x/../in.json"):
        ended = cli("plan", piece, "--shop", shop, "-o", tmp_path / name, *DAY)
        assert ended.status == 2
        assert "is what is read, and would be written over" in ended.err
    assert (piece.read_bytes(), shop.read_bytes()) == before


def test_a_drawing_is_not_written_over_what_is_read(tmp_path: Path, cli: Cli) -> None:
    piece, shop = tmp_path / "piece.yaml", tmp_path / "piece-top.svg"
    piece.write_text(EXAMPLE, encoding="utf-8")
    shop.write_text("# finplan\nshop: Shop\n", encoding="utf-8")
    assert cli("draw", piece, "--shop", shop, "-o", tmp_path).status == 2
    assert {path.name for path in tmp_path.iterdir()} == {"piece.yaml", "piece-top.svg"}


def test_what_is_written_beside_is_new(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("secrets.token_hex", lambda _: "guessed")
    (tmp_path / "precious").write_text("precious", encoding="utf-8")
    (tmp_path / ".out.json-guessed.part").symlink_to(tmp_path / "precious")
    with pytest.raises(NotPossibleError, match="cannot be written"):
        write_whole(b"new", tmp_path / "out.json")
    assert (tmp_path / "precious").read_text(encoding="utf-8") == "precious"


def test_a_name_that_no_file_can_have_is_told_as_a_problem_of_the_input(
    example: Path, tmp_path: Path, cli: Cli
) -> None:
    long = tmp_path / ("x" * 300)
    for words in (
        ["check", long],
        ["buy", long],
        ["sheet", example, "-o", long / "a.pdf"],
        ["areas", example, "--shop", long],
    ):
        ended = cli(*words)
        assert ended.status == 2
        assert "x" * 300 in ended.out + ended.err
        assert "file name too long" in ended.out + ended.err
        assert "the output cannot be written" not in ended.err


def test_a_name_with_an_escape_code_colours_no_terminal(tmp_path: Path, cli: Cli) -> None:
    red = tmp_path / "a\x1b[31mred.yaml"
    red.write_text(SMALL, encoding="utf-8")
    assert "\x1b" not in cli("check", red).out
    red.write_text("{}", encoding="utf-8")
    assert "\x1b" not in cli("check", red).out


# --- signals --------------------------------------------------------------------------------------------------------


@pytest.mark.skipif(os.name != "posix", reason="signals are of POSIX")
@pytest.mark.parametrize(("number", "status"), [(signal.SIGTERM, 143), (signal.SIGHUP, 129), (signal.SIGINT, 130)])
def test_one_signal_ends_it_and_leaves_nothing(
    number: signal.Signals, status: int, example: Path, tmp_path: Path
) -> None:
    scratch, work = tmp_path / "scratch", tmp_path / "work"
    scratch.mkdir()
    work.mkdir()
    process = subprocess.Popen(
        [*FINPLAN, "sheet", str(example), "-o", str(work / "sheet.pdf"), *DAY],
        env={**os.environ, "TMPDIR": str(scratch)},
        stderr=subprocess.PIPE,
        start_new_session=True,
    )
    until = time.monotonic() + 60
    while not list(scratch.iterdir()) and process.poll() is None and time.monotonic() < until:
        time.sleep(0.01)  # until the page is being set
    process.send_signal(number)
    _, err = process.communicate(timeout=60)
    assert process.returncode in (status, 0)  # 0 where it was done before
    assert b"Traceback" not in err
    assert list(scratch.iterdir()) == []
    assert [path.name for path in work.iterdir()] in ([], ["sheet.pdf"])


@pytest.mark.usefixtures("own_press")
def test_the_demo_leaves_no_temporary_folder(tmp_path: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch) -> None:
    scratch = tmp_path / "scratch"
    scratch.mkdir()
    monkeypatch.setenv("TMPDIR", str(scratch))  # which the page renderer in a process of its own reads
    monkeypatch.setattr(tempfile, "tempdir", str(scratch))
    monkeypatch.chdir(tmp_path)
    assert cli("demo").status == 0
    assert list(scratch.iterdir()) == []


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_a_signal_that_a_library_makes_an_error_of_is_that_signal(number: signal.Signals) -> None:
    # The solver's module, broken off while it loads, says "ImportError: initialization failed".
    program = f"""
import os, signal, sys, time
from finplan.cli.run import run

def app():
    try:
        os.kill(os.getpid(), {int(number)})
        time.sleep(10)
    except BaseException:
        raise ImportError("initialization failed") from None

sys.exit(run(app))
"""
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=False)
    word = "stopped: nothing was written that is not whole\n" if number == signal.SIGINT else ""
    assert (done.returncode, done.stderr) == (128 + number, word)


def test_a_break_that_nothing_can_hear_is_heard_a_moment_later(capfd: pytest.CaptureFixture[str]) -> None:
    """What is raised in the callback of a weak reference, as modules that are loading have one, Python only tells."""

    class Module:
        pass

    def app() -> None:
        module = Module()
        told = weakref.ref(module, lambda _: signal.raise_signal(signal.SIGINT))
        del module
        time.sleep(10)
        raise AssertionError(told)

    begun = time.monotonic()
    assert run(app) == 128 + signal.SIGINT
    assert time.monotonic() - begun < 5
    assert "stopped" in capfd.readouterr().err
