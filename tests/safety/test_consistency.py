"""Whatever a row asks for is on the lists, in the cautions, and first when it may kill; and nothing else is bought.

A sample of the grid; ``python -m tests.safety.whole_grid`` looks at all of it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from finplan.planning import Plan, with_stages
from tests.safety.contradictions import contradictions
from tests.safety.grid import Cell, plan_of, sample


@pytest.mark.parametrize("cell", sample(), ids=str)
def test_nothing_contradicts(cell: Cell, tmp_path: Path) -> None:
    plan = plan_of(cell, tmp_path)
    assert plan.precautions.rows or not plan.timetable.has_plan
    assert contradictions(plan) == []


def without_gear(plan: Plan) -> Plan:
    gear = plan.precautions.gear
    return with_stages(plan, precautions=replace(plan.precautions, gear=replace(gear, have=gear.have[1:])))


def without_a_caution(plan: Plan) -> Plan:
    lines = [line for line in plan.cautions if line.code != "wood-dust"]
    return with_stages(plan, precautions=replace(plan.precautions, cautions=tuple(lines)))


def without_the_worst(plan: Plan) -> Plan:
    return with_stages(plan, precautions=replace(plan.precautions, worst=()))


def without_filters(plan: Plan) -> Plan:
    rows = {name: replace(care, uses=()) for name, care in plan.precautions.rows.items()}
    return with_stages(plan, precautions=replace(plan.precautions, rows=rows))


def without_words(plan: Plan) -> Plan:
    rows = {name: replace(care, codes=()) for name, care in plan.precautions.rows.items()}
    return with_stages(plan, precautions=replace(plan.precautions, rows=rows))


def shut_tightly(plan: Plan) -> Plan:
    lines = [replace(line, text=plan.catalogue.cautions[line.code].text) for line in plan.cautions]
    return with_stages(plan, precautions=replace(plan.precautions, cautions=tuple(lines)))


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (without_gear, "is not on the list of what to have"),
        (without_a_caution, "wood-dust, which is not printed"),
        (without_the_worst, "may kill and is not on the first page"),
        (without_filters, "no P100 is worn"),
        (without_filters, "no row uses the"),
        (without_words, "its dust heats by itself"),
    ],
)
def test_a_contradiction_is_found(change: Callable[[Plan], Plan], words: str, tmp_path: Path) -> None:
    plan = plan_of(Cell("linseed-oil", "old bench", "a small room"), tmp_path)
    assert any(words in found for found in contradictions(change(plan)))


def test_what_is_shut_tightly_over_hardener_is_found(tmp_path: Path) -> None:
    plan = plan_of(Cell("polyurethane-2k", "shelf", "a large room with a fan"), tmp_path)
    assert any("gives off gas" in found for found in contradictions(shut_tightly(plan)))
