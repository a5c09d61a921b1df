"""Old paint that may hold lead: by when the piece was built, and under films of unknown age."""

from __future__ import annotations

from pathlib import Path

import pytest

from finplan.planning import Wishes, read_source
from finplan.problems import RefusedError
from tests.plans import make_plan
from tests.safety.contradictions import contradictions
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
    plan = make_plan([read_source(file, tmp_path / "shop.yaml")], now=NOW, wishes=Wishes(answers=False))
    (line,) = [line for line in plan.cautions if line.code == "old-paint"]
    assert line.because == ("an old film of unknown age (top)",)
    assert plan.safety.dust.extractor == "Class H"


@pytest.mark.parametrize("built", ["built: 1965, ", ""])
def test_a_clear_test_plans_as_for_new_wood(built: str, tmp_path: Path) -> None:
    """No row, mask or bag for lead, and machines again; the card says on whose word."""
    plan = plan_with(tmp_path, "shellac", more=f"refinish: {{{built}lead-test: clear}}\n")
    new = plan_with(tmp_path, "shellac")
    assert {line.code for line in plan.cautions} == {line.code for line in new.cautions}
    assert [row.deed for row in plan.timetable.steps] == [row.deed for row in new.timetable.steps]
    assert plan.precautions.gear == new.precautions.gear
    for group in plan.piece_of(plan.treatments[0]).sanding.groups:
        assert [step.method for step in group.steps] == [
            step.method
            for one in new.piece_of(new.treatments[0]).sanding.groups
            if one.group == group.group
            for step in one.steps
        ]
        assert any("tested and holds no lead" in note for note in group.notes)
    assert contradictions(plan) == []


@pytest.mark.parametrize("built", ["built: 1965, ", "built: 2015, ", ""])
def test_lead_that_was_found_is_sanded_as_lead_and_not_tested_again(built: str, tmp_path: Path) -> None:
    plan = plan_with(tmp_path, "shellac", more=f"refinish: {{{built}lead-test: lead}}\n")
    told = {line.code: line for line in plan.cautions}
    assert told["old-paint-found"].because == ("a test that found lead",)
    assert told["old-paint-found"] in plan.precautions.worst
    assert {"old-paint-wet", "old-paint-clean-up", "old-paint-waste"} <= set(told)
    assert not {"old-paint", "old-paint-test"} & set(told)
    deeds = {row.deed for row in plan.timetable.steps}
    assert "wipe-down" in deeds
    assert "test" not in deeds
    assert "lead-test" not in {need.name for need in plan.precautions.gear.buy}
    (sheeting,) = [need for need in plan.precautions.gear.buy if need.name == "plastic-sheeting"]
    kept_in = {name for name, care in plan.precautions.rows.items() if "old-paint-containment" in care.codes}
    days = {row.start.date() for row in plan.timetable.steps if row.kind == "attended" and row.id in kept_in}
    assert sheeting.needed.typical == len(days) < len(kept_in), "one a day, not one for each step"
    assert contradictions(plan) == []


def test_bags_for_what_is_scraped_off_and_for_the_evenings_are_one_row(tmp_path: Path) -> None:
    plan = plan_with(tmp_path, "shellac", more="refinish: {built: 1965, lead-test: lead, strip: chemical}\n")
    catalogue, gear = plan.catalogue, plan.precautions.gear
    (bags,) = [need for need in (*plan.ordered.consumables, *gear.buy) if need.name == "waste-bag"]
    lifted_m2 = sum(
        step.area_m2
        for treatment in plan.treatments
        for step in treatment.steps
        if step.recipe.extra is not None and "waste-bag" in catalogue.extra_steps[step.recipe.extra].uses
    )
    assert lifted_m2 > 0
    days = {
        (code, row.start.date())
        for row in plan.timetable.steps
        if row.kind == "attended" and row.id in gear.rows["waste-bag"]
        for code in plan.precautions.rows[row.id].codes
        if "waste-bag" in catalogue.cautions[code].uses
    }
    # 0.2 bags for a square metre of lifted film, and one an evening for each caution that asks for one: practice.
    assert bags.needed.typical == pytest.approx(0.2 * lifted_m2 + len(days))
    assert contradictions(plan) == []


@pytest.mark.parametrize(
    ("value", "wrong"),
    [
        ("refinish: {built: soon}", "'soon' is not a year"),
        ("refinish: {built: 12}", "'12' is not a year"),
        ("refinish: {built: 1965.5}", "'1965.5' is not a year"),
        ("refinish: {built: true}", "true is not a year"),
        ("refinish: {}", "nothing is said in it"),
        ("refinish: {built: 1965, lead-test: maybe}", "'maybe'"),
        ("refinish: {built: 1965, lead-test: true}", "true is not known here"),
        ("refinish: {built: 1965, led-test: clear}", "field 'led-test' is unknown"),
        ("refinish: 1965", "'1965' stands where a group of fields belongs"),
        ("refinish: {bilt: 1965}", "field 'bilt' is unknown"),
    ],
)
def test_a_wrong_year_is_refused(value: str, wrong: str, tmp_path: Path) -> None:
    with pytest.raises(RefusedError) as caught:
        source_with(tmp_path, "shellac", more=f"{value}\n")
    assert any(wrong in problem.wrong for problem in caught.value.problems), caught.value.problems
    assert {problem.line for problem in caught.value.problems} == {1}
