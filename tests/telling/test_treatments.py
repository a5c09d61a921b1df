"""What items get, in words."""

from __future__ import annotations

import finplan
from finplan.telling import offer_words
from finplan.telling.treatments import treatment_words

DRAWER = """\
piece: Drawer
lengths: mm
timber: cherry
system: oil-varnish
deliver: 2027-06-18
parts:
  drawer:
    shape: drawer
    width: 400
    height: 110
    depth: 340
    thickness: 13
    bottom: 6
    faces: {outside: {coats: 1}, inside: {coats: FEW}}
"""


def test_of_faces_that_get_fewer_coats_the_span_is_told() -> None:
    """Neither the customer nor the maker is told three coats of what gets one on most of its faces."""
    plan = finplan.plan(DRAWER.replace("FEW", "1"), start="2027-05-03 08:00")
    (treatment,) = plan.treatments
    assert "one to three coats of oil-based varnish" in offer_words(treatment, plan)
    assert "1 to 3 coats of oil-based varnish" in treatment_words(treatment, "", plan)


def test_of_faces_that_get_none_nothing_is_counted() -> None:
    plan = finplan.plan(DRAWER.replace("FEW", "0").replace("outside: {coats: 1}, ", ""), start="2027-05-03 08:00")
    (treatment,) = plan.treatments
    assert "three coats of oil-based varnish" in offer_words(treatment, plan)
    assert "to three" not in offer_words(treatment, plan)
