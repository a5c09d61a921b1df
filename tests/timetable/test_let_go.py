"""A plan that was lived through leaves nothing behind but when its pieces were ready."""

from __future__ import annotations

import gc
import weakref
from pathlib import Path

import pytest

from finplan.timetable import chance
from finplan.timetable.life import Life
from finplan.timetable.timetable import NO_BUFFER
from tests.timetable.test_critical import planner_of


def test_a_life_is_let_go_at_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    lives: list[weakref.ref[Life]] = []

    class Watched(Life):
        def ready(self):  # type: ignore[no-untyped-def]
            lives.append(weakref.ref(self))
            return super().ready()

    monkeypatch.setattr(chance, "Life", Watched)
    planner = planner_of(tmp_path, "hardwax-oil", 3)
    made = planner.made_late(NO_BUFFER)
    assert made is not None
    gc.disable()  # of twenty pieces a life takes 100 MB: it is not to wait until garbage is looked for
    try:
        chance.lived(planner.job.pieces, planner.setting, made.schedule, planner.job.ready_for, planner.few_draws)
        assert [life() for life in lives] == [None]
    finally:
        gc.enable()
