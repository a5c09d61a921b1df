"""Stages of a plan: each once, and none before it is asked for."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import FrozenInstanceError
from pathlib import Path
from typing import Any

import pytest

from finplan.planning import Plan, Wishes, read_sources, read_workshop, with_stages
from finplan.planning.timing import draft_of
from finplan.problems import RefusedError
from finplan.reading import Written
from tests.conftest import EXAMPLE
from tests.plans import plan_of, sound_pieces
from tests.timetable.shops import NOW

MADE_IN = {
    "finplan.planning.source.measured": "surface",
    "finplan.planning.piece.treatments": "treatments",
    "finplan.planning.piece.sanding_plan": "sanding",
    "finplan.planning.order.material_plan": "materials",
    "finplan.planning.timing.drafted": "timetable",
    "finplan.planning.plan.safety_report": "safety",
    "finplan.planning.plan.precautions": "precautions",
    "finplan.drawing.piece_drawings": "drawings",
}
"""Where each stage is made: the name that is called for it."""


@pytest.fixture
def made(monkeypatch: pytest.MonkeyPatch) -> Counter[str]:
    """How often each stage was made."""
    counts: Counter[str] = Counter()

    def counted(stage: str, make: Callable[..., Any]) -> Callable[..., Any]:
        def call(*given: Any, **more: Any) -> Any:
            counts[stage] += 1
            return make(*given, **more)

        return call

    monkeypatch.setattr("finplan.planning.plan.draft_of", draft_of)  # planned here and not taken over
    for path, stage in MADE_IN.items():
        module, _, name = path.rpartition(".")
        monkeypatch.setattr(path, counted(stage, getattr(__import__(module, fromlist=[name]), name)))
    return counts


def table(text: str = EXAMPLE) -> Plan:
    return plan_of(read_sources([Written(Path("table.yaml"), text)], None), now=NOW, wishes=Wishes(answers=False))


def test_no_stage_is_made_twice(made: Counter[str]) -> None:
    plan = table()
    for _ in range(2):
        plan.whole()
        assert set(plan.pieces[0].drawings) == set(plan.pieces[0].source.piece.parts)
    assert made == dict.fromkeys(MADE_IN.values(), 1)


@pytest.mark.parametrize(
    ("stage", "expected"),
    [
        ("shop", {"surface"}),
        ("treatments", {"surface", "treatments", "sanding"}),
        ("materials", {"surface", "treatments", "sanding", "materials"}),
        ("timetable", {"surface", "treatments", "sanding", "timetable"}),
    ],
)
def test_a_stage_makes_no_more_than_it_rests_on(stage: str, expected: set[str], made: Counter[str]) -> None:
    getattr(table(), stage)
    assert set(made) == expected  # whether an item can be sanded as the file asks is part of what it gets


def test_a_file_and_its_text_are_planned_alike(tmp_path: Path) -> None:
    file, shop = tmp_path / "table.yaml", tmp_path / "shop.yaml"
    file.write_text(EXAMPLE, encoding="utf-8")
    shop.write_text("shop: Back room\nmethods: [wipe, brush, hand]\n", encoding="utf-8")
    from_files = plan_of(read_sources([file], shop), now=NOW)
    texts = [Written(Path("table.yaml"), EXAMPLE)]
    from_texts = plan_of(read_sources(texts, Written(Path("shop.yaml"), shop.read_text())), now=NOW)
    assert from_texts.materials == from_files.materials
    assert from_texts.digest == from_files.digest


def test_a_workshop_is_kept(tmp_path: Path) -> None:
    shop = tmp_path / "shop.yaml"
    shop.write_text("shop: Back room\nmethods: [wipe, brush, hand]\n", encoding="utf-8")
    kept = read_workshop(shop)
    shop.unlink()
    assert read_workshop(kept) is kept
    assert read_sources([Written(Path("table.yaml"), EXAMPLE)], kept)[0].shop is kept.shop


@pytest.mark.parametrize(
    ("more", "where"),
    [
        ("\n  seat: {shape: mesh, file: seat.stl, unit: mm, grain: y, timber: ash}\n", "parts.seat.file"),
        ("\n  seat: {shape: mesh, file: ../seat.stl, unit: mm, grain: y, timber: ash}\n", "parts.seat.file"),
    ],
)
def test_a_text_names_no_file(more: str, where: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "seat.stl").write_bytes(b"solid\nendsolid\n")
    with pytest.raises(RefusedError) as refused:
        read_sources([Written(Path("table.yaml"), EXAMPLE.rstrip() + more)], None)
    assert any("beside the piece file" in str(problem) for problem in refused.value.problems), where


@pytest.mark.parametrize("more", ["records: mine\n", "climate: {log: logger.csv}\n"])
def test_a_shop_that_is_a_text_names_no_file(more: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "mine").mkdir()
    (tmp_path / "logger.csv").write_text("time,temperature,humidity\n", encoding="utf-8")
    with pytest.raises(RefusedError, match="beside the shop file"):
        read_workshop(Written(Path("shop.yaml"), f"shop: Back room\n{more}"))


def test_all_that_refuses_any_piece_is_told_at_once(tmp_path: Path) -> None:
    texts = [EXAMPLE.replace("system: hardwax-oil\n", ""), EXAMPLE.replace("timber: ash\n", "", 1)]
    sources = read_sources([Written(Path(f"{n}.yaml"), text) for n, text in enumerate(texts)], None)
    with pytest.raises(RefusedError) as refused:
        sound_pieces(sources)
    assert {problem.file.name for problem in refused.value.problems} == {"0.yaml", "1.yaml"}
    for stage in ("treatments", "materials", "timetable", "risks"):
        with pytest.raises(RefusedError) as again:
            getattr(plan_of(sources, now=NOW), stage)
        assert again.value.problems == refused.value.problems, stage


def test_a_plan_cannot_be_changed_but_others_made_of_it() -> None:
    plan = table()
    with pytest.raises(FrozenInstanceError):
        plan.now = NOW  # type: ignore[misc]
    other = with_stages(plan, materials=None)
    assert [one.materials is None for one in (other, plan)] == [True, False]
