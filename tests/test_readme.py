"""The README says what the program does, and what stood in it once stands in the guide."""

from __future__ import annotations

import doctest
import json
import re
from pathlib import Path

import pytest

from tests.guide import COMMANDS, GUIDE
from tests.readme import README, ROOT, prepare, printed

TEXT = README.read_text(encoding="utf-8")
LONGEST = 150


def test_a_newcomer_reads_it_to_the_end() -> None:
    assert len(TEXT.splitlines()) < LONGEST


def test_every_command_is_in_the_table() -> None:
    from finplan.cli.app import program

    table = COMMANDS.read_text(encoding="utf-8")
    for name in program().commands:
        assert re.search(rf"\\| `finplan {name}[ `]", table), name


def test_the_test_command_is_the_one_that_is_run_everywhere() -> None:
    (command,) = re.findall(r"```sh\n(.*pytest)\n```", TEXT)
    assert command in (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()


def test_what_is_asked_from_python_answers_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (block,) = re.findall(r"```pycon\n(.*?)```", (GUIDE / "python.md").read_text(encoding="utf-8"), re.DOTALL)
    prepare(tmp_path)
    monkeypatch.chdir(tmp_path)
    tried = doctest.DocTestRunner(verbose=False)
    tried.run(doctest.DocTestParser().get_doctest(block, {}, "README", None, 0))
    assert tried.summarize(verbose=False) == (0, block.count(">>> "))


def test_every_link_leads_somewhere() -> None:
    for target in re.findall(r"\]\((?!http)([^)#]+)\)", TEXT):
        assert (ROOT / target).exists(), target


def test_every_shape_is_shown_and_can_be_read(tmp_path: Path) -> None:
    from finplan.inputs.shapes import SHAPES

    page = (GUIDE / "piece-file.md").read_text(encoding="utf-8")
    (block,) = re.findall(r"```yaml\n(piece: One of every shape\n.*?)```", page, re.DOTALL)
    file = tmp_path / "shapes.yaml"
    file.write_text(block, encoding="utf-8")
    told = json.loads(printed(f"finplan areas {file} --json", tmp_path))
    assert {part["shape"] for part in told["parts"]} == SHAPES.keys() - {"mesh"}
