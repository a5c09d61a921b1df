"""Old paint that may hold lead: by when the piece was built, and under films of unknown age."""

from __future__ import annotations

from pathlib import Path

import pytest

from finplan.plan import make_plan
from finplan.problems import RefusedError
from finplan.source import read_source
from tests.safety.pieces import NOW, plan_with, source_with


def codes(folder: Path, more: str = "") -> set[str]:
    return {line.code for line in plan_with(folder, "shellac", more=more).cautions}


@pytest.mark.parametrize(
    ("built", "there", "source"),
    # 40 CFR 745: before 1978 in the United States; until 1992 in the United Kingdom (recalled): the later counts.
    [(1930, True, "both"), (1965, True, "both"), (1985, True, "UK"), (1992, False, "none"), (2010, False, "none")],
)
def test_lead_by_age(built: int, there: bool, source: str, tmp_path: Path) -> None:
    assert ("old-paint" in codes(tmp_path, f"refinish: {{built: {built}}}\n")) is there, source


def test_new_wood_has_no_old_paint(tmp_path: Path) -> None:
    assert "old-paint" not in codes(tmp_path)


def test_a_stripped_film_of_unknown_age_is_tested(tmp_path: Path) -> None:
    source_with(tmp_path, "shellac")
    file = tmp_path / "piece.yaml"
    text = file.read_text(encoding="utf-8").replace("shape: disc", "shape: disc\n    surface: stripped")
    file.write_text(text, encoding="utf-8")
    plan = make_plan([read_source(file, tmp_path / "shop.yaml")], now=NOW)
    (line,) = [line for line in plan.cautions if line.code == "old-paint"]
    assert line.because == ("an old film of unknown age (top)",)
    assert plan.safety.dust.extractor == "Class H"


@pytest.mark.parametrize(
    ("value", "wrong"),
    [
        ("refinish: {built: soon}", "'soon' is not a year"),
        ("refinish: {built: 12}", "'12' is not a year"),
        ("refinish: {built: 1965.5}", "'1965.5' is not a year"),
        ("refinish: {built: true}", "'True' is not a year"),
        ("refinish: {}", "field 'built' is missing"),
        ("refinish: 1965", "'1965' stands where a group of fields belongs"),
        ("refinish: {bilt: 1965}", "field 'bilt' is unknown"),
    ],
)
def test_a_wrong_year_is_refused(value: str, wrong: str, tmp_path: Path) -> None:
    with pytest.raises(RefusedError) as caught:
        source_with(tmp_path, "shellac", more=f"{value}\n")
    assert any(wrong in problem.wrong for problem in caught.value.problems), caught.value.problems
    assert {problem.line for problem in caught.value.problems} == {1}
