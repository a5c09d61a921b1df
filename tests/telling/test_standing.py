"""What lies under stripper, or was washed and dries, has a tag and is in the calendar."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from typing import Any

import icalendar

from finplan.calendar import plan_calendar
from finplan.planning import Wishes, read_source
from finplan.tags import tags
from tests.plans import make_plan
from tests.timetable.shops import NOW

CHEST = """refinish: {lead-test: clear, strip: chemical}
piece: Chest
lengths: mm
timber: ash
system: oil-varnish
parts:
  chest: {shape: carcase, width: 900, height: 700, depth: 480, thickness: 20}
"""


def test_it_has_a_tag_and_an_event_for_each_portion(tmp_path: Path) -> None:
    (tmp_path / "chest.yaml").write_text(CHEST, encoding="utf-8")
    plan = make_plan([read_source(tmp_path / "chest.yaml", None)], now=NOW, wishes=Wishes(answers=False))
    rows = [row for row in plan.timetable.steps if row.extra is not None]
    brushed = [row for row in rows if row.extra == "strip-chemical"]
    lifted = [row for row in rows if row.extra == "lift-old-film"]
    under = [tag for tag in tags(plan) if tag.caution.startswith("Under stripper")]
    assert len(under) == len(brushed) == 3
    assert [tag.then.split(",")[0] for tag in under] == ["Then lift off the old film"] * 3
    events: list[Any] = icalendar.Calendar.from_ical(plan_calendar(plan, NOW)).walk("VEVENT")
    uids = [str(event["uid"]) for event in events]
    assert len(set(uids)) == len(uids)
    lying = [event for event in events if "under stripper" in str(event["summary"])]
    assert [(one["dtstart"].dt, one["dtend"].dt) for one in lying] == [
        (before.end, after.start) for before, after in zip(brushed, lifted, strict=True)
    ]
    # The last portion was washed, and is left alone for the 24 h that it typically dries, or until it is gone on with.
    (washed,) = [event for event in events if "washed off" in str(event["summary"])]
    assert washed["dtend"].dt - washed["dtstart"].dt == timedelta(hours=24)
