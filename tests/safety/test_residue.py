"""Lacquer and what oxidises are not sprayed on one another's residues, which heat by themselves.

34 Pennsylvania Code 35.92 (d): pyroxylin lacquers and paints or varnishes are not sprayed by turns in one booth, unless
it is thoroughly cleaned before either.
"""

from __future__ import annotations

from pathlib import Path

from finplan.planning import Wishes
from finplan.safety import Circumstance
from tests.planned_once import made_at_once
from tests.plans import make_plan
from tests.safety.pieces import NOW, ROOMY, plan_with, source_with

GUN = ROOMY + "}\nmethods: [wipe, spray-hvlp, hand, lathe]\nrack: {places: 20, hooks: 20"
KINDS = {
    "alkyd-primer": "oil",
    "alkyd-enamel": "oil",
    "lacquer-sanding-sealer": "lacquer",
    "nitrocellulose-lacquer": "lacquer",
}


def _told(circumstances: tuple[Circumstance, ...]) -> list[str]:
    return [row for there in circumstances if there.danger == "residue-of-another" for row in there.rows]


def test_a_booth_is_cleaned_between_lacquer_and_paint_and_not_between_coats_of_one(tmp_path: Path) -> None:
    plan = plan_with(tmp_path, "lacquer", timber="beech", top="alkyd-enamel", room=GUN)
    finishes = {step.id: step.finish for treatment in plan.treatments for step in treatment.steps}
    coats = sorted(
        (row for row in plan.timetable.steps if row.deed == "coat" and row.kind == "attended"),
        key=lambda row: row.start,
    )
    kinds = [KINDS[finishes[row.of_step or ""] or ""] for row in coats]
    changes = [row.id for row, kind, last in zip(coats[1:], kinds[1:], kinds, strict=False) if kind != last]
    assert changes
    assert sorted(_told(plan.precautions.circumstances)) == sorted(changes)
    for name in changes:
        assert "spray-changed" in plan.precautions.rows[name].codes
    alone = plan_with(tmp_path, "lacquer", timber="beech", room=GUN)
    assert _told(alone.precautions.circumstances) == []


def test_what_is_done_lies_in_the_booth_all_the_same(tmp_path: Path) -> None:
    """Planned again when all of the paint is on, the lacquer that is left is sprayed on its residues still."""
    source = source_with(tmp_path, "lacquer", timber="beech", top="alkyd-enamel", room=GUN)
    plan = plan_with(tmp_path, "lacquer", timber="beech", top="alkyd-enamel", room=GUN)
    painted = [row for row in plan.timetable.steps if row.item == "top" and row.kind == "attended"]
    with made_at_once():
        done = {row.id: NOW for row in painted}
        left = make_plan([source], now=NOW, wishes=Wishes(answers=False, done=done))
    first = min((row for row in left.timetable.steps if row.deed == "coat"), key=lambda row: row.start)
    assert _told(left.precautions.circumstances) == [first.id]
