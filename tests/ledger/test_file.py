"""The file of a ledger: begun, opened, refused, killed, written by two at once."""

from __future__ import annotations

import shutil
import sqlite3
import subprocess
import sys
import tempfile
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from pathlib import Path

import pytest

from finplan.ledger import LedgerError, begin_job, open_ledger, read_ledger, ticks_of, write_tick
from finplan.ledger.file import empty_ledger, file_of
from finplan.ledger.schema import STEPS, TABLES, VERSION
from tests.ledger.entries import FILES, MORNING, done
from tests.ledger.kills import killed


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A ledger with one entry."""
    file = tmp_path / "finplan.ledger"
    with open_ledger(file) as ledger, ledger.changing():
        write_tick(ledger, begin_job(ledger, FILES, MORNING), done())
    return file


def test_what_is_written_is_read_again_and_nothing_stays_beside_the_file(file: Path) -> None:
    with read_ledger(file) as ledger:
        assert ledger is not None
        assert [entry.steps for entry in ticks_of(ledger)] == [("seat/coat-1",)]
    assert [one.name for one in file.parent.iterdir()] == ["finplan.ledger"]


def test_looking_at_no_ledger_begins_none(tmp_path: Path) -> None:
    with read_ledger(tmp_path / "finplan.ledger") as ledger:
        assert ledger is None
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["with space.ledger", "100%20?#.ledger", "küche.ledger"])
def test_any_name_will_do(tmp_path: Path, name: str) -> None:
    with open_ledger(tmp_path / name) as ledger:
        assert ticks_of(ledger) == ()
    assert [one.name for one in tmp_path.iterdir()] == [name]


def test_what_fails_half_way_leaves_nothing(file: Path) -> None:
    def fail_half_way() -> None:
        with open_ledger(file) as ledger, ledger.changing():
            write_tick(ledger, begin_job(ledger, FILES, MORNING), done("half"))
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        fail_half_way()
    with open_ledger(file) as ledger:
        assert len(ticks_of(ledger)) == 1


@pytest.mark.parametrize("table", ["tick", "ticked", "plan", "planned", "observation", "lot", "lot_event"])
def test_what_has_happened_is_never_changed(file: Path, table: str) -> None:
    """By this program or another: the file itself refuses it."""
    with closing(sqlite3.connect(file)) as connection:
        triggers = connection.execute(
            "SELECT name FROM sqlite_schema WHERE type = 'trigger' AND tbl_name = ?", (table,)
        )
        assert {name for (name,) in triggers} == {f"{table}_is_not_changed", f"{table}_is_not_deleted"}
        if table in ("tick", "ticked"):
            with pytest.raises(sqlite3.IntegrityError, match="only added to"):
                connection.execute(f"DELETE FROM {table}")  # noqa: S608


def test_an_entry_belongs_to_a_job(file: Path) -> None:
    def enter() -> None:
        with open_ledger(file) as ledger, ledger.changing():
            write_tick(ledger, 99, done())

    with pytest.raises(LedgerError, match="FOREIGN KEY"):
        enter()


# --- other versions ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("version", range(1, VERSION))
def test_an_older_ledger_is_brought_forward_with_all_that_is_in_it(tmp_path: Path, version: int) -> None:
    file = tmp_path / "finplan.ledger"
    with closing(empty_ledger(version)) as connection:
        connection.execute("INSERT INTO job VALUES (3, '[\"settle.yaml\"]', '2027-02-10T08:00:00+00:00')")
        connection.execute(
            "INSERT INTO tick (id, job, kind, at, entered, person) VALUES "
            "(7, 3, 'done', '2027-02-10T09:00:00+00:00', '2027-02-10T09:00:00+00:00', 'Wenna')"
        )
        connection.execute("INSERT INTO ticked VALUES (7, 'seat/sand')")
        file.write_bytes(file_of(connection))
    with open_ledger(file) as ledger:
        ((now,),) = ledger.rows("PRAGMA user_version")
        assert now == VERSION
        assert [(tick.id, tick.steps, tick.person) for tick in ticks_of(ledger)] == [(7, ("seat/sand",), "Wenna")]
    with closing(sqlite3.connect(file)) as found, closing(empty_ledger()) as new:
        asked = "SELECT name, sql FROM sqlite_schema ORDER BY name"
        assert found.execute(asked).fetchall() == [tuple(row) for row in new.execute(asked)]


def test_a_step_forward_that_fails_leaves_the_version_before(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "finplan.ledger"
    with open_ledger(file):
        pass
    before = file.read_bytes()
    worse = (*STEPS, "CREATE TABLE half (of INTEGER) STRICT;\nINSERT INTO nothing VALUES (1);")
    monkeypatch.setattr("finplan.ledger.file.STEPS", worse)

    with pytest.raises(LedgerError), open_ledger(file):
        pass
    with closing(sqlite3.connect(file)) as connection:
        assert connection.execute("PRAGMA user_version").fetchone() == (VERSION,)
        assert connection.execute("SELECT count(*) FROM sqlite_schema WHERE name = 'half'").fetchone() == (0,)
    assert len(before) == len(file.read_bytes())


def test_every_table_is_strict_and_has_its_place_in_what_is_exported() -> None:
    with closing(empty_ledger()) as connection:
        found = connection.execute("SELECT name, strict FROM pragma_table_list WHERE schema = 'main'").fetchall()
    tables = {name: strict for name, strict in found if not name.startswith("sqlite_")}
    assert set(tables) == set(TABLES)
    assert all(tables.values())


# --- what is no ledger, or cannot be used -----------------------------------------------------------------------------


def _spoilt(file: Path, how: str) -> None:
    if how == "damaged":
        whole = bytearray(file.read_bytes())
        whole[4096:12288] = b"\xa5" * 8192
        file.write_bytes(whole)
    elif how == "cut short":
        file.write_bytes(file.read_bytes()[:9000])
    elif how == "text":
        file.write_text("piece: Settle\n" * 100)
    elif how == "empty":
        file.write_bytes(b"")
    else:
        file.unlink()
        with closing(sqlite3.connect(file)) as connection:
            connection.execute("CREATE TABLE songs (name TEXT)")
            if how == "newer":
                connection.execute("PRAGMA application_id = 0x46504C47")
                connection.execute("PRAGMA user_version = 99")
            connection.commit()


@pytest.mark.parametrize(
    ("how", "said"),
    [
        ("damaged", "is damaged"),
        ("cut short", "is damaged"),
        ("text", "is no ledger of finplan"),
        ("empty", "is no ledger of finplan"),
        ("foreign", "is no ledger of finplan"),
        ("newer", "is a ledger of version 99"),
    ],
)
def test_what_cannot_be_used_is_refused_and_left_as_it_is(file: Path, how: str, said: str) -> None:
    _spoilt(file, how)
    before = file.read_bytes()
    for opened in (open_ledger, read_ledger):
        with pytest.raises(LedgerError, match=said) as refused, opened(file):
            pass
        assert refused.value.exit_code == 2
        assert str(file) in str(refused.value)
    assert file.read_bytes() == before
    assert [one.name for one in file.parent.iterdir()] == [file.name]


def test_a_folder_and_a_broken_link_are_refused(tmp_path: Path) -> None:
    (tmp_path / "link").symlink_to(tmp_path / "nowhere")
    for name in (tmp_path, tmp_path / "link"):
        with pytest.raises(LedgerError, match="is no file"), open_ledger(name):
            pass


_WRITE = """
import sys
from pathlib import Path
from finplan.ledger import LedgerError, begin_job, open_ledger, read_ledger, write_tick, ticks_of
from tests.ledger.entries import FILES, MORNING, done
file, many, size = Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3])
with read_ledger(file) as ledger:
    print(len(ticks_of(ledger)), flush=True)
try:
    with open_ledger(file) as ledger:
        for number in range(many):
            with ledger.changing():
                write_tick(ledger, begin_job(ledger, FILES, MORNING), done(f"step {number}", note="x" * size))
            print("written", flush=True)
except LedgerError as error:
    print(error)
    sys.exit(error.exit_code)
"""


def _write(file: Path, many: int, size: int = 10, first: str = "") -> subprocess.CompletedProcess[str]:
    code = _WRITE.replace("file, many", f"{first}file, many", 1)
    return subprocess.run(
        [sys.executable, "-c", code, str(file), str(many), str(size)],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )


def test_a_ledger_that_may_only_be_read_is_read_and_says_so_when_written(file: Path) -> None:
    """Who runs as root may write everything, and so goes on as nobody, in a folder to which the way is open."""
    as_nobody = "import os\nif os.geteuid() == 0:\n    os.setgroups([]); os.setgid(65534); os.setuid(65534)\n"
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(shutil.copy(file, folder))
        copy.chmod(0o444)
        Path(folder).chmod(0o555)
        ended = _write(copy, 1, first=as_nobody)
        Path(folder).chmod(0o755)
        assert copy.read_bytes() == file.read_bytes()
        assert len(list(Path(folder).iterdir())) == 1
    assert ended.stdout.startswith("1\n"), ended.stdout
    assert "may only be read; nothing was written down" in ended.stdout
    assert ended.returncode == 2


def test_on_a_full_disk_what_is_confirmed_is_kept_and_nothing_else(file: Path) -> None:
    """The system lets no file grow past half a megabyte: the log of a ledger meets that as it meets a full disk."""

    no_larger = "import resource\nresource.setrlimit(resource.RLIMIT_FSIZE, (500_000, 500_000))\n"
    ended = _write(file, 1000, 5000, first=no_larger)
    confirmed = ended.stdout.count("written\n")
    assert 0 < confirmed < 1000
    assert "nothing of this was kept" in ended.stdout
    assert "Traceback" not in ended.stdout
    assert ended.returncode == 2
    with open_ledger(file) as ledger:
        assert len(ticks_of(ledger)) == confirmed + 1


def test_a_ledger_that_finds_no_room_to_be_begun_leaves_nothing(tmp_path: Path) -> None:
    code = (
        "import resource, sys; from pathlib import Path; from finplan.ledger import open_ledger\n"
        "from finplan.problems import FinplanError\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (5000, 5000))\n"
        "try:\n with open_ledger(Path(sys.argv[1])): pass\n"
        "except FinplanError as error: sys.exit(error.exit_code)"
    )
    ended = subprocess.run([sys.executable, "-c", code, str(tmp_path / "finplan.ledger")])
    assert ended.returncode == 2
    assert list(tmp_path.iterdir()) == []


# --- many at once, and killed -----------------------------------------------------------------------------------------


def test_two_processes_that_write_at_once_lose_nothing(tmp_path: Path) -> None:
    """Both begin it, too."""
    file = tmp_path / "finplan.ledger"
    each = 40
    with ThreadPoolExecutor(3) as pool:
        code = _WRITE.replace("    print(len(ticks_of(ledger)), flush=True)", "    pass")
        run = [
            pool.submit(subprocess.run, [sys.executable, "-c", code, str(file), str(each), "10"], capture_output=True)
            for _ in range(3)
        ]
        ended = [one.result() for one in run]
    assert [one.returncode for one in ended] == [0, 0, 0], ended
    with open_ledger(file) as ledger:
        assert len(ticks_of(ledger)) == 3 * each
        assert len(ledger.rows("SELECT * FROM job")) == 1


def test_killed_at_any_moment_it_has_all_that_was_confirmed_and_nothing_half(tmp_path: Path) -> None:
    confirmed, there = killed(8, 11, tmp_path)
    assert there >= confirmed > 0


def test_a_copy_is_a_ledger_too(file: Path, tmp_path: Path) -> None:
    copy = tmp_path / "copy.ledger"
    shutil.copyfile(file, copy)
    with open_ledger(copy) as ledger:
        assert len(ticks_of(ledger)) == 1
