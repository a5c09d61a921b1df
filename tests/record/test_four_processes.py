"""Timetable, sheet, tags and calendar by four processes at once: one plan, the same minutes (``four_processes``)."""

from __future__ import annotations

from pathlib import Path

from tests.record.four_processes import SHELF, shown_at_once


def test_four_processes_that_begin_at_once_show_one_plan(tmp_path: Path) -> None:
    told = shown_at_once([SHELF], tmp_path)
    assert told["timetable"] >= told["sheet"] > 0
    assert told["tags"] > 0
