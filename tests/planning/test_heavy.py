"""What flat parts weigh that are turned while they are coated, and from when on that is said."""

from __future__ import annotations

import pytest

import finplan
from finplan.calendar import plan_calendar
from finplan.cli.timetable import timetable_lines
from finplan.listing import listed
from finplan.planning import Plan, flat_mass_g
from finplan.sheet import sheet_html
from finplan.sheet.work import Works
from finplan.telling import asked_in_words, step_numbers
from finplan.timetable import TimetableStep, first_stretches

PIECE = """\
piece: Top of an invented sideboard
lengths: mm
timber: white-oak
system: hardwax-oil
deliver: 2027-06-18
parts:
  top: {{shape: board, length: {length}, width: 1000, thickness: 40}}
  box: {{shape: carcase, width: 400, height: 300, depth: 200, thickness: 15}}
"""


def planned(length_mm: int, system: str = "hardwax-oil") -> Plan:
    return finplan.plan(PIECE.format(length=length_mm).replace("hardwax-oil", system), start="2027-06-01 08:00")


def test_a_top_weighs_what_its_wood_does() -> None:
    """Wood Handbook, table 5-3a: white oak 0.68; chapter 4: at 12 % moisture 1120 kg/m³ for each of that."""
    plan = planned(2000)
    by_item = {treatment.item: flat_mass_g(treatment, plan.pieces[0]) for treatment in plan.treatments}
    assert by_item["top"] == pytest.approx(2.0 * 1.0 * 0.040 * 0.68 * 1120e3)
    assert by_item["box"] is None


def test_what_one_person_can_lift_is_said_nothing_of() -> None:
    """23 kg of it are 755 mm long."""
    assert "weighs about" not in sheet_html(planned(750))
    heavy = sheet_html(planned(760))
    assert "It weighs about 23.2 kg" in heavy
    assert "not turned alone" in heavy


def test_where_nobody_else_may_be_in_the_room_nobody_helps_to_turn_it() -> None:
    """Its hardener is isocyanate."""
    told = rows_of(planned(2000, "hardwax-oil-2k"))
    assert "turned by a hoist or on a stand that turns" in told["top", "Coat 1"]
    assert "whoever helps wears the same" not in told["top", "Coat 1"]
    assert "whoever helps wears the same" in told["top", "Sand bare wood"]


def rows_of(plan: Plan) -> dict[tuple[str, str], str]:
    """What the sheet says of each row for its item alone, by item and label."""
    works = Works(plan)
    rows = [works.of(step) for step in first_stretches(plan.timetable.steps).values()]
    return {(work.row.item, work.row.label): " ".join((*work.own, *work.row.lines)) for work in rows}


BENCH = """\
piece: An invented workbench
lengths: mm
timber: beech
system: hardwax-oil
deliver: 2027-06-18
after: [fit-top, hand-over]
parts:
  top: {shape: board, length: 2200, width: 700, thickness: 90}
  leg: {shape: square-leg, side: 100, length: 780, count: 4}
"""


def test_a_heavy_top_is_sanded_abraded_and_put_on_by_several() -> None:
    """Beech 0.64 (Wood Handbook): 2.2 x 0.7 x 0.09 m of it are 99 kg, which nobody turns to sand both sides."""
    plan = finplan.plan(BENCH, start="2027-05-03 08:00")
    rows = rows_of(plan)
    turned = "not turned alone; whoever helps wears the same"
    told = {label: words for (item, label), words in rows.items() if item == "top"}
    assert turned in told["Sand bare wood"]
    assert turned in told["Abrade P320"]
    assert turned in told["Coat 1"]
    whole = {label: words for (item, label), words in rows.items() if item == "whole piece"}
    for label in ("Fit the top", "Hand over, signed for"):
        assert "Not lifted alone: top (about 9" in whole[label]
        assert "or more: not carried alone" in whole[label]
    phone = plan_calendar(plan, plan.now).replace(b"\r\n ", b"").decode()
    assert phone.count("not turned alone") >= sum(turned in words for words in rows.values())
    assert "Not lifted alone: top" in phone


def test_what_is_light_is_put_together_without_a_word() -> None:
    plan = finplan.plan(BENCH.replace("2200", "500").replace("90}", "40}"), start="2027-05-03 08:00")
    page = sheet_html(plan)
    for words in ("Not lifted alone", "not turned alone", "not carried alone"):
        assert words not in page


def test_loose_parts_are_carried_one_by_one() -> None:
    """Thirteen treads of stairs weigh 90 kg, and nobody carries all of them at once."""
    treads = "parts:\n  tread: {shape: board, length: 920, width: 270, thickness: 40, count: 13}\n"
    plan = finplan.plan(BENCH[: BENCH.index("parts:")].replace("fit-top", "wrap") + treads, start="2027-05-03 08:00")
    assert "not carried alone" not in sheet_html(plan)


def test_what_may_hold_lead_is_turned_by_nobody_else() -> None:
    """Whoever works on it is alone in the room."""
    page = sheet_html(finplan.plan(BENCH.replace("after: [fit-top, hand-over]", "refinish: {built: 1930}")))
    assert "turned by a hoist or on a stand that turns" in page


IN_TWO = """\
shop: Alder Yard
people:
  - {name: Osric, hours: {mon-fri: 8:00-17:00}}
  - {name: Wenna, hours: {%s: 7:00-17:30}, skills: [assembly]}
"""
ASK = "Ask somebody in: nobody else is there."
AGREE = "Nobody else is there but the customer: agree with them who lifts, or ask somebody in."


def test_who_is_alone_that_day_asks_somebody_in() -> None:
    """On paper, on the telephone and in the terminal; where the other comes every day nobody is asked."""
    with_her = finplan.plan(BENCH, shop=IN_TWO % "mon-fri", start="2027-05-03 08:00")
    assert asked_in_words(with_her) == ()
    assert ASK not in sheet_html(with_her)
    plan = finplan.plan(BENCH, shop=IN_TWO % "thu", start="2027-05-03 08:00")
    works = Works(plan)
    heavy = [row for row in first_stretches(plan.timetable.steps).values() if "alone" in " ".join(works.of(row).own)]
    asked = [row for row in heavy if ASK in works.of(row).own]
    (handed,) = (row for row in heavy if AGREE in works.of(row).own)
    assert {row.start.strftime("%a") for row in heavy} > {row.start.strftime("%a") for row in (*asked, handed)}
    assert all((row.start.strftime("%a") != "Thu") == (row in (*asked, handed)) for row in heavy)
    told, told_of_handing = asked_in_words(plan)
    assert told.startswith(f"Too heavy for one at steps {step_numbers(asked)}, when nobody else is in the shop: ")
    assert told.endswith(f"ask somebody in for {listed(dict.fromkeys(map(_day, asked)))}.")
    assert told_of_handing == (
        f"Too heavy for one at step {handed.number}, when nobody else is there but the customer: "
        f"agree with them who lifts, or ask somebody in for {_day(handed)}."
    )
    phone = plan_calendar(plan, plan.now).replace(b"\r\n ", b"").decode().replace("\\,", ",")
    for words in (told, told_of_handing):
        assert words in sheet_html(plan)
        assert words in timetable_lines(plan)
    assert (phone.count(ASK), phone.count(AGREE)) == (len(asked), 1)


def _day(row: TimetableStep) -> str:
    return f"{row.start:%a} {row.start.day} {row.start:%b}"


def test_the_customer_is_there_when_a_piece_is_handed_over() -> None:
    """Who works alone was told to ask somebody in as nobody else was there, and the customer was."""
    alone = "shop: Alone\npeople: [{name: Osric, hours: {mon-fri: 8:00-17:00}}]\n"
    told = {
        label: words for (_, label), words in rows_of(finplan.plan(BENCH, shop=alone, start="2027-05-03 08:00")).items()
    }
    assert AGREE in told["Hand over, signed for"]
    assert ASK not in told["Hand over, signed for"]
    assert ASK in told["Fit the top"]
    assert AGREE not in told["Fit the top"]


def test_nobody_is_asked_in_where_nobody_may_help() -> None:
    """Its hardener is isocyanate: the top is turned by a hoist."""
    alone = "shop: Alone\npeople: [{name: Osric, hours: {mon-fri: 8:00-17:00}}]\n"
    plan = finplan.plan(
        BENCH.replace("hardwax-oil", "hardwax-oil-2k").replace("after: [fit-top, hand-over]\n", ""),
        shop=alone,
        start="2027-05-03 08:00",
    )
    for (item, label), words in rows_of(plan).items():
        if item == "top" and label.startswith("Coat "):
            assert "turned by a hoist" in words
            assert ASK not in words
