"""The doors through which all that is written comes in: text, numbers, files and hints, each bounded."""

from __future__ import annotations

import contextlib
import json
import os
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from finplan.catalogue import bundled_catalogue, grade_name
from finplan.geometry import read_path
from finplan.inputs import Known, piece_from
from finplan.inputs.labels import Labels
from finplan.problems import RefusedError, did_you_mean, hints_anew
from finplan.quantity import DURATION, LENGTH, QuantityError, known_length_unit, read_quantity, read_range
from finplan.reading import GivenDate, UnreadableError, parse_document, read_bytes, validate
from tests.conftest import EXAMPLE, Cli
from tests.inputs.shops import load_shop

KNOWN = Known(timbers=["ash"], systems=["hardwax-oil"], surfaces=["planed"])
BOARD = {"shape": "board", "length": "400 mm", "width": "90 mm", "thickness": "20 mm"}


def piece(**more: Any) -> list[str]:
    """Return what is wrong with a piece."""
    _, findings = piece_from({"piece": "Box", "parts": {"top": BOARD}, **more}, KNOWN)
    return [finding.wrong for finding in findings]


def part(**fields: Any) -> list[str]:
    """Return what is wrong with a part."""
    return piece(parts={"top": fields})


def shop(folder: Path, **fields: Any) -> str:
    """Return what is wrong with a shop."""
    file = folder / "shop.yaml"
    file.write_text(json.dumps({"shop": "Yard", **fields}), encoding="utf-8")
    try:
        load_shop(file, bundled_catalogue())
    except RefusedError as error:
        return str(error)
    return ""


# --- text -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("text", [".inf", "2027.10", "-.INF", "1e3", "+7", "0.50", "1.", ".nan"])
def test_a_name_is_text_as_it_is_written(text: str, tmp_path: Path, cli: Cli) -> None:
    file = tmp_path / "piece.yaml"
    file.write_text(EXAMPLE.replace("Reading table, village library", text), encoding="utf-8")
    assert cli("areas", file).out.splitlines()[0] == text


@pytest.mark.parametrize("text", ["bell\x07", "\x1b[31mred", "a\u202eb", "a\u2066b", "\ue000", "x" * 300, "\x9b1m"])
def test_no_name_commands_a_terminal_or_turns_a_line(text: str, tmp_path: Path) -> None:
    assert piece(piece=text)
    assert piece(customer=text)
    assert piece(parts={text: BOARD})
    assert piece(parts={"top": {"shape": "measured", "faces": {text: "1 m2"}}})
    assert piece(assemblies={text: {"parts": ["top"]}})
    told = shop(tmp_path, rooms={text: {"for": ["sanding", "coating", "drying"]}})
    assert "is no name" in told
    assert told.isprintable()
    assert len(told) < 400


def test_what_a_problem_quotes_turns_no_line_either(tmp_path: Path, cli: Cli) -> None:
    file = tmp_path / "piece.yaml"
    file.write_text(EXAMPLE.replace("apron:", '"a\\u202eb\\e[31m":'), encoding="utf-8")
    for more in ([], ["--json"]):
        out = cli("check", file, *more).out
        assert "\\u202e" in out
        assert "".join(out.split()).isprintable()


def test_what_is_written_from_right_to_left_is_a_name() -> None:
    assert not piece(piece="שולחן", parts={"رجل": BOARD, "लकड़ी": BOARD, "می\u200cز": BOARD})


def test_rooms_have_a_bound(tmp_path: Path) -> None:
    assert "rooms" in shop(tmp_path, rooms={f"room {n}": {"for": ["coating"]} for n in range(500)})


def test_a_quoted_value_is_short() -> None:
    long = "9" * 100_000
    for wrong in (*part(**{**BOARD, "count": long}), *piece(lengths=long), *part(**{**BOARD, "length": long})):
        assert len(wrong) < 200


# --- numbers --------------------------------------------------------------------------------------------------------


def test_points_that_nearly_coincide_are_no_curve() -> None:
    points = [["0 mm", "48 mm"], ["1e-7 mm", "62 mm"], ["420 mm", "36 mm"]]
    wrong = part(shape="turned", elements=[{"curve": {"points": points}}])
    assert wrong == ["distance 1e-07 mm does not follow 0 mm"]
    profile = [["0 mm", "0 mm"], ["0.0001 mm", "0 mm"], ["9 mm", "9 mm"]]
    assert part(shape="moulding", profile=profile, length="1 m") == ["this point is where the one before is"]


@pytest.mark.parametrize("size", ["0.0001 mm", "101 m", "0 mm", "-1 mm", "1e300 mm"])
def test_every_length_lies_between_a_thousandth_of_a_millimetre_and_a_hundred_metres(size: str) -> None:
    assert part(**{**BOARD, "length": size})
    assert part(**BOARD, faces={"front": {"less": [f"{size} x 1 mm"]}})
    assert part(shape="disc", diameter="1 m", thickness="20 mm", edge=f"chamfer {size}")
    points = [["0 mm", size], ["100 mm", "20 mm"]]
    assert part(shape="turned", elements=[{"curve": {"points": points}}])


# --- files ----------------------------------------------------------------------------------------------------------


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="the machine has no named pipes")
def test_a_pipe_is_no_file_and_is_not_waited_for(tmp_path: Path, cli: Cli) -> None:
    for name in ("piece.yaml", "air.csv", "top.stl", "finishes.yaml"):
        (tmp_path / "own").mkdir(exist_ok=True)
        os.mkfifo(tmp_path / ("own" if name == "finishes.yaml" else ".") / name)
    assert "is no plain file" in cli("check", tmp_path / "piece.yaml").out
    assert "is no plain file" in shop(tmp_path, climate={"log": "air.csv"})
    assert "is no plain file" in shop(tmp_path, records="own")
    _, findings = piece_from(
        {"piece": "Box", "parts": {"top": {"shape": "mesh", "file": "top.stl", "unit": "mm"}}}, KNOWN, folder=tmp_path
    )
    assert "is no plain file" in findings[0].wrong


def test_links_that_go_round_are_told(tmp_path: Path) -> None:
    for first, second in (("a.csv", "b.csv"), ("b.csv", "a.csv"), ("own", "other"), ("other", "own")):
        (tmp_path / first).symlink_to(tmp_path / second)
    assert "'a.csv' is a link that leads nowhere" in shop(tmp_path, climate={"log": "a.csv"})
    assert "'own' is a link that leads nowhere" in shop(tmp_path, records="own")


def test_a_folder_of_records_that_may_not_be_read_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "own").mkdir()

    def refuse(_: Path) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "iterdir", refuse)
    assert "own:1:1: the folder: cannot be read: permission denied" in shop(tmp_path, records="own")


def test_a_long_file_is_refused_before_it_is_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with (tmp_path / "long").open("wb") as stream:
        stream.truncate(10**12)
    with pytest.raises(UnreadableError, match="is longer than 1,000 bytes"):
        read_bytes(tmp_path / "long", 1000)


def test_a_log_has_no_more_rows_than_a_year_has_pairs_of_minutes(tmp_path: Path) -> None:
    rows = "2027-01-01 00:00,18,50\n" * 300_001
    (tmp_path / "air.csv").write_text(f"time,temperature,humidity\n{rows}", encoding="utf-8")
    assert "has 300,002 rows; expected at most 300,000" in shop(tmp_path, climate={"log": "air.csv"})


# --- hints and time -------------------------------------------------------------------------------------------------


def test_the_nearest_name_is_looked_for_only_so_often() -> None:
    hints_anew()
    hints = [did_you_mean(f"as{n}", ["ash", "beech"]) for n in range(300)]
    assert hints[0] == "did you mean 'ash'?"
    assert hints[-1] == "known: ash, beech"
    parse_document("a: 1", Path("any.yaml"))
    assert did_you_mean("ahs", ["ash", "beech"]) == "did you mean 'ash'?"


def test_words_that_stand_whole_in_a_longer_name_are_likelier_than_a_name_of_like_letters() -> None:
    """A system's name where that of its finish is wanted: letters alone lead to another product."""
    known = ["tinted-oil", "boiled-linseed-oil", "linseed-oil-paint"]
    assert did_you_mean("linseed-oil", known) == "did you mean 'boiled-linseed-oil'?"
    assert did_you_mean("Linseed-Oil", known) == "did you mean 'boiled-linseed-oil'?"
    assert did_you_mean("seed-oil", ["tinted-oil", "boiled-linseed-oil"]) == "did you mean 'tinted-oil'?"


def _quietly(reader: Callable[[], object]) -> None:
    with contextlib.suppress(QuantityError, ValueError, RefusedError):
        reader()


READERS: dict[str, Callable[[str], object]] = {
    "length": lambda text: read_quantity(f"1{text}mm", LENGTH),
    "range": lambda text: read_range(f"1{text}/{text}2/3{text}h", DURATION),
    "unit": known_length_unit,
    "span": lambda text: part(**BOARD, faces={"front": {"less": text}}),
    "labels": lambda text: validate(Labels, {"margins": f"1 mm{text}x", "gaps": [f"{text}, 2 mm"]}),
    "raised": lambda text: part(
        shape="door", width="1 m", height="1 m", thickness="20 mm",
        frame={"stile": "60 mm", "rail": "60 mm"}, panel={"thickness": "10 mm", "raised": f"4{text}x{text}8 mm"},
    ),
    "edge": lambda text: part(shape="disc", diameter="1 m", thickness="20 mm", edge=f"bevel {text}x{text}"),
    "path": lambda text: read_path(f"M0 0{text}L1 1{text}"),
    "grade": lambda text: grade_name(f"{text}p{text}120{text}"),
    "date": lambda text: GivenDate.parse(f"2027-03-12{text}15:00"),
    "name": lambda text: piece(piece=f"a{text}b", timber=text, system=text, lengths=text, units=text),
    "hours": lambda text: shop_part(hours={f"mon{text}-fri": f"8:00{text}-12:00"}),
    "text": lambda text: parse_document(f"piece: a{text}b\n{text}c: d{text}", Path("any.yaml")),
}  # fmt: skip


def shop_part(**fields: Any) -> object:
    """Return what is wrong with a person of a shop."""
    from finplan.inputs import Person

    return validate(Person, {"name": "Ana", **fields})


@pytest.mark.parametrize("filler", [" ", "a", "1", "x ", "- ", ". "])
@pytest.mark.parametrize("name", READERS)
def test_no_reader_takes_time_that_grows_faster_than_its_text(name: str, filler: str) -> None:
    """Sixteen times the text takes some sixteen times as long, not the square of that; by ratio, so on any machine."""

    def best_s(length: int) -> float:
        text = filler * (length // len(filler))
        taken = []
        for _ in range(3):
            began = time.perf_counter()
            _quietly(lambda: READERS[name](text))
            taken.append(time.perf_counter() - began)
        return min(taken)

    _quietly(lambda: READERS[name](filler))
    short_s, long_s = best_s(1250), best_s(20_000)
    # Below this nothing has grown to speak of, and what is measured is the clock.
    assert long_s < max(40 * short_s, 0.05)


def test_labour_and_closed_days_are_read_in_time_that_grows_with_them(tmp_path: Path) -> None:
    began = time.perf_counter()
    assert "is not a price of labour" in shop(tmp_path, labour=f"4{' ' * 50_000}x")
    plain_s = time.perf_counter() - began
    began = time.perf_counter()
    assert "stretches are too many" in shop(tmp_path, closed=["1970-01-01 to 1980-01-01"] * 20_000)
    assert time.perf_counter() - began < 40 * plain_s + 1
