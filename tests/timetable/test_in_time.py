"""A plan that keeps its dates is found where none made at once does, and the least late is searched for too long.

Three items come after a sample that is approved late; one person works in one room. That they can be in time follows
from a plan by hand: coats in turn with the sanding of the others, the last on Wednesday, two days before the delivery.
"""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

from finplan.planning import Wishes, job_of
from finplan.reading import GivenDate
from finplan.timetable import Planner
from finplan.timetable.timetable import NO_BUFFER
from tests.timetable.shops import COOL_SHOP, read

CASKET = """\
piece: Casket
lengths: mm
timber: sapele
system: shellac
sample: approve by 2027-02-18
before: [fill-pores]
after: [hand-over]
parts:
  casket: {shape: drawer, width: 320, height: 140, depth: 240, thickness: 12, bottom: 6, veneer: 0.6 mm}
  lid:
    {shape: rectangle, length: 324, width: 244, thickness: 18, edge: bullnose, veneer: 0.6 mm,
     faces: {underside: {coats: 2}}}
  foot: {shape: disc, circumference: 120, thickness: 12, count: 4, faces: {top: {exposure: covered}}}
"""


def test_what_comes_after_a_sample_is_in_time(tmp_path: Path) -> None:
    pieces = read(tmp_path, [CASKET], COOL_SHOP)
    dates = tuple(GivenDate.parse("2027-02-18" if piece.key else "2027-02-26 12:00") for piece in pieces)
    planner = Planner(job_of(pieces, dates, datetime(2027, 1, 25, tzinfo=UTC), Wishes(answers=False)))
    made = planner._at_once.least_late(NO_BUFFER)
    assert made is not None
    assert planner.lateness(made) > 0  # else this shows nothing
    found = planner.least_late()
    assert found is not None
    assert planner.lateness(found) == 0
    assert not planner.faults
