"""What is planned once stripper lies on an item, ticked as brushed on sooner or later than it was planned."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from random import Random

from finplan.planning import Wishes, timetable_of
from tests.timetable.read_back import Planned
from tests.timetable.shops import rest_of
from tests.timetable.verifier import broken_rules

_LATE_MIN = (0, 0, 10, 45, 120, 600)
_ON_MIN = (0, 5, 30, 120, 960)


def faults_while_it_lies(planned: Planned) -> Iterator[str]:
    """Give every rule that is broken by what is planned then: as little of it moved as can be, and anew."""
    random = Random(f"{planned.timetable.start}")
    brushed = [row for row in planned.timetable.steps if row.extra == "strip-chemical"]
    if not brushed:
        return
    row = random.choice(brushed)
    end = row.end + timedelta(minutes=random.choice(_LATE_MIN))
    now = end + timedelta(minutes=random.choice(_ON_MIN))
    for name, later in after_ticked(planned, row.id, end, now).items():
        broken = (one for one in broken_rules(later) if not one.endswith("is ready after its delivery"))
        yield from (f"{name}, {row.id} ticked at {end}: {one}" for one in broken)


def after_ticked(planned: Planned, name: str, end: datetime, now: datetime) -> dict[str, Planned]:
    """Return what is planned now, after a step and all that was to be done before it was: by its way, where it is."""
    rows = [row for row in planned.timetable.steps if row.kind == "attended"]
    until = max(row.end for row in rows if row.id == name)
    ends = {row.id: row.end for row in rows}
    known = {one.id for piece in planned.pieces for one in piece.operations}
    tails = {row.id for row in rows if row.deed == "clean-up"}
    done = {one: at for one, at in ends.items() if at <= until and (one in known or one in tails)} | {name: end}
    wishes = Wishes(answers=False, asap=planned.wishes.asap, done=done)
    kept = rest_of(planned, now, wishes)
    anew = timetable_of(planned.pieces, planned.deliveries, now=now, wishes=wishes)
    found = {
        "kept": Planned(planned.pieces, planned.deliveries, kept.earliest, wishes, kept.timetable),
        "anew": Planned(planned.pieces, planned.deliveries, now, wishes, anew),
    }
    return {way: one for way, one in found.items() if one.timetable.has_plan}
