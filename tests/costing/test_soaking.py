"""Waits until a coat is wiped off: charged once where one coat after another is put on."""

from __future__ import annotations

from itertools import pairwise

import pytest

from tests.costing.test_quote import PIECE, planned


def test_coats_that_soak_in_while_the_next_is_put_on_are_charged_once() -> None:
    """A coat that is wiped off after a while leaves its maker free to put on the next: only the last wait is charged.

    The sum by hand: coats of one finish that a person puts on without a gap are a row, and of each row one wait stays.
    """
    piece = PIECE.replace("hardwax-oil", "oil-varnish-blend").replace("timber: ash", "timber: ash\nset: 3")
    plan = planned(piece=piece)
    wait_h = plan.catalogue.finishes["oil-varnish-blend"].wipe_off_h
    assert wait_h is not None
    coats = [row for row in plan.timetable.steps if row.deed == "coat" and row.kind == "attended"]
    runs = 1 + sum(before.end != after.start for before, after in pairwise(coats))
    assert runs < len(coats)
    assert plan.quote.soaking_h == pytest.approx((len(coats) - runs) * wait_h.typical)
    (coating,) = [one.hours for one in plan.quote.hours if one.kind == "coating"]
    planned_h = sum((row.end - row.start).total_seconds() for row in coats) / 3600
    assert coating.typical == pytest.approx(planned_h - plan.quote.soaking_h)
