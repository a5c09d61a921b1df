"""Files that are wrong: each refused with file, line and reason, status 2, no traceback and nothing written."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.conftest import EXAMPLE, Cli

HEAD = "piece: Stool\nlengths: mm\ntimber: ash\nsystem: hardwax-oil\nparts:\n"

# name, text of the file, line of the first problem, words that its message holds
MALFORMED: list[tuple[str, str, int, str]] = [
    ("empty", "", 1, "is empty"),
    ("a list", "- piece: Stool\n", 1, "a list at the top"),
    ("a tab", "piece: Stool\nparts:\n\ttop: {}\n", 3, "use spaces"),
    ("an open quote", "piece: 'Stool\n", 1, "a quote is opened here and never closed"),
    ("half a letter", 'piece: "St\\ud800ol"\n', 1, "a backslash stands before what is no sign"),
    ("no escape", 'piece: "St\\qool"\n', 1, "a backslash stands before what is no sign"),
    ("an open bracket", HEAD + "  top: {shape: disc, diameter: [1100\n", 6, "opened here and never closed"),
    ("no space after a colon", EXAMPLE.replace("diameter: 1100", "diameter:1100"), 15, "expected diameter: 1100"),
    ("likewise in braces", EXAMPLE.replace("neck: 48", "neck:48"), 24, "expected neck: 48"),
    ("a decimal comma in braces", EXAMPLE.replace("neck: 48", "neck: 48,5"), 24, "write a point: 48.5"),
    (
        "a decimal comma in a list",
        EXAMPLE.replace("[150, 62]", "[150, 62,5]"),
        26,
        "Write 62.5",
    ),
    (
        "two colons",
        EXAMPLE.replace("Reading table, village", "Reading: village"),
        1,
        "a second colon stands in one value",
    ),
    (
        "a quote within",
        EXAMPLE.replace("Reading table, village library", "'It's a table'"),
        1,
        "follows a closing quote",
    ),
    ("moved in too far", EXAMPLE.replace("    thickness: 28", "      thickness: 28"), 16, "moved in otherwise"),
    ("a shop file", "shop: Mill\npeople: []\nrooms: {}\n", 1, "this is a shop file"),
    ("no warning of that name", EXAMPLE + "accept: [past-dat]\n", 38, "did you mean 'past-date'?"),
    ("two documents", "piece: Stool\n---\npiece: Table\n", 2, "second document"),
    ("an alias", "piece: &a Stool\nparts: *a\n", 1, "anchor or alias"),
    ("a tag", "piece: !!python/object/apply:os.system [echo]\n", 1, "the YAML tag"),
    ("a field twice", "piece: Stool\npiece: Table\n", 2, "given twice, first in line 1"),
    ("nested too deep", "piece: " + "[" * 40 + "]" * 40 + "\n", 1, "nested more than"),
    ("a control character", "piece: Sto\x07ol\n", 1, "character that text may not hold"),
    ("no parts", "piece: Stool\n", 1, "there are no parts"),
    ("no name", EXAMPLE.replace("piece: Reading table, village library\n", ""), 1, "'piece' is missing"),
    ("a misspelt field", EXAMPLE.replace("customer:", "custmer:"), 2, "did you mean 'customer'?"),
    ("a misspelt timber", EXAMPLE.replace("timber: ash", "timber: ahs"), 5, "did you mean 'ash'?"),
    ("a misspelt system", EXAMPLE.replace("hardwax-oil", "hardwx-oil"), 6, "did you mean 'hardwax-oil'?"),
    ("a misspelt shape", EXAMPLE.replace("shape: board", "shape: bord"), 30, "did you mean 'board'?"),
    ("a misspelt element", EXAMPLE.replace("- cove:", "- coev:"), 25, "did you mean 'cove'?"),
    ("a misspelt face", EXAMPLE.replace("ends: {exposure", "end: {exposure"), 37, "did you mean 'ends'?"),
    ("a misspelt exposure", EXAMPLE.replace("exposure: covered", "exposure: coverd"), 37, "did you mean 'covered'?"),
    ("a bare length", EXAMPLE.replace("lengths: mm\n", ""), 14, "'1100' has no unit"),
    ("a wrong unit", EXAMPLE.replace("diameter: 1100", "diameter: 1100 kg"), 15, "'kg' is not a unit of length"),
    ("zero", EXAMPLE.replace("thickness: 28", "thickness: 0"), 16, "'0' is zero"),
    ("negative", EXAMPLE.replace("thickness: 28", "thickness: -28"), 16, "'-28' is negative"),
    ("not a number", EXAMPLE.replace("thickness: 28", "thickness: .nan"), 16, "not a finite size"),
    ("infinite", EXAMPLE.replace("thickness: 28", "thickness: .inf"), 16, "not a finite size"),
    ("a decimal comma", EXAMPLE.replace("thickness: 28", "thickness: 28,5"), 16, "a comma in the number"),
    ("two sizes", EXAMPLE.replace("diameter: 1100", "diameter: 1100\n    radius: 550"), 16, "exactly one"),
    ("a count of none", EXAMPLE.replace("count: 4", "count: 0"), 19, "0 is out of range"),
    ("a count with a part", EXAMPLE.replace("count: 4", "count: 2.5"), 19, "not a whole number"),
    ("an unknown profile", EXAMPLE.replace("chamfer 3", "chanfer 3"), 17, "did you mean 'chamfer'?"),
    ("a profile too tall", EXAMPLE.replace("roundover 6", "roundover 26"), 17, "28"),
    ("a fat bead", EXAMPLE.replace("diameter: 64, neck: 48", "diameter: 94, neck: 48"), 24, "at most half its length"),
    ("a thin bead", EXAMPLE.replace("diameter: 64, neck: 48", "diameter: 46, neck: 48"), 24, "wider than the bead"),
    ("a length that disagrees", EXAMPLE.replace("shape: turned", "shape: turned\n    length: 710"), 21, "700 mm"),
    ("a groove through", EXAMPLE.replace("depth: 9", "depth: 22"), 34, "22 mm deep"),
    ("a patch too large", EXAMPLE.replace("back: {", "back: {less: [700 x 100], "), 36, "the patches take"),
    ("an assembly of nothing known", EXAMPLE.replace("[leg, apron]", "[leg, apon]"), 10, "did you mean 'apron'?"),
    ("a day that is not", EXAMPLE.replace("2027-03-12 15:00", "2027-02-30"), 7, "is not a date"),
    ("text where a part belongs", HEAD + "  top: a round one\n", 6, "the part has no fields"),
    ("a misspelt surface", EXAMPLE.replace("back: {", "back: {surface: plained, "), 36, "did you mean 'planed'?"),
    ("a veneer like a board", EXAMPLE.replace("thickness: 28", "thickness: 28\n    veneer: 20"), 17, "is no veneer"),
    ("an unknown grade", EXAMPLE.replace("back: {", "back: {stop-grit: P175, "), 36, "did you mean 'P180'?"),
    ("no grade at all", EXAMPLE.replace("back: {", "back: {start-grit: fine, "), 36, "'fine' is not a grade"),
    ("a grain without a width", EXAMPLE.replace("shape: turned", "shape: turned\n    grain: width"), 21, "no width"),
]


NAMES = [case[0] for case in MALFORMED]


@pytest.mark.parametrize(("text", "line", "words"), [case[1:] for case in MALFORMED], ids=NAMES)
@pytest.mark.parametrize("command", ["check", "areas", "sheet"])
def test_refused(command: str, text: str, line: int, words: str, tmp_path: Path, cli: Cli) -> None:
    file = tmp_path / "piece.yaml"
    file.write_bytes(text.encode())
    output = tmp_path / "sheet.pdf"
    ended = cli(command, file, *(["-o", output] if command == "sheet" else []))
    told = ended.out if command == "check" else ended.err
    assert ended.status == 2
    assert f"{file}:{line}:" in told
    assert words in told
    assert "Traceback" not in ended.out + ended.err
    assert [path.name for path in tmp_path.iterdir()] == ["piece.yaml"]


@pytest.mark.parametrize(
    ("name", "content", "words"),
    [
        ("latin-1.yaml", "piece: Schr\xe4nkchen\n".encode("latin-1"), "not text in UTF-8"),
        ("long.yaml", b"# " + b"x" * 1_100_000, "longer than 1,000,000 bytes"),
    ],
)
def test_files_that_are_no_text(name: str, content: bytes, words: str, tmp_path: Path, cli: Cli) -> None:
    file = tmp_path / name
    file.write_bytes(content)
    ended = cli("areas", file)
    assert ended.status == 2
    assert f"{file}:1:1: the file: " in ended.err
    assert words in ended.err


def test_a_file_that_is_not_there(tmp_path: Path, cli: Cli) -> None:
    assert "no such file" in cli("areas", tmp_path / "nothing.yaml").err
    assert "is a folder" in cli("areas", tmp_path).err


def test_every_problem_is_told_at_once(tmp_path: Path, cli: Cli) -> None:
    file = tmp_path / "piece.yaml"
    text = EXAMPLE.replace("timber: ash", "timber: ahs").replace("thickness: 28", "thickness: 0")
    file.write_text(text.replace("roundover 6", "roundovr 6").replace("[leg, apron]", "[leg, aprn]"), encoding="utf-8")
    lines = cli("areas", file).err.splitlines()
    assert [int(line.removeprefix(f"{file}:").split(":")[0]) for line in lines] == [5, 10, 16, 17]


def test_a_misspelt_field_is_one_problem(tmp_path: Path, cli: Cli) -> None:
    file = tmp_path / "piece.yaml"
    file.write_text(EXAMPLE.replace("neck: 48", "nek: 48"), encoding="utf-8")
    assert cli("areas", file).err == (
        f"{file}:24:30: parts.leg.elements[2].bead.nek: field 'nek' is unknown; did you mean 'neck'?\n"
    )
