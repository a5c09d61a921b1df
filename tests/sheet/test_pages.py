"""What the pages say, section by section."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from finplan.cli.materials import materials_lines
from finplan.drawing import reduced
from finplan.listing import listed
from finplan.material import Left, OnShelf
from finplan.planning import Plan, read_source, with_stages
from finplan.sheet import sheet_html
from finplan.sheet.appendix import appendix
from finplan.sheet.buying import buying
from finplan.sheet.care import care_cards
from finplan.sheet.cautions import caution_groups
from finplan.sheet.conditions import conditions
from finplan.sheet.days import working_days
from finplan.sheet.first_page import first_page
from finplan.sheet.sanding_cards import DRAWING_MM, SandingCard, sanding_order, sanding_pages
from finplan.sheet.sanding_rules import rules_in_two_columns
from finplan.telling import Names, NextWork, buffer_words, sanding_rules, stop_reasons
from finplan.timetable import Buffer
from tests.plans import make_plan
from tests.sheet.conftest import NOW


def test_worst_dangers_are_of_different_sorts(table: Plan, hostile: Plan) -> None:
    """Of an oil on ash: its cloths, its vapour, a mask where nobody knows the air, and dust that causes cancer.

    Of a two-component spray its isocyanate, and that dust however many are worse.
    """
    assert [danger.title for danger in first_page(table).dangers] == [
        "Oily cloths",
        "Vapour that burns",
        "Mask for solvent",
        "Hardwood dust",
    ]
    titles = [danger.title for danger in first_page(hostile).dangers]
    assert "Isocyanate hardener" in titles
    assert "Hardwood dust" in titles


def test_items_that_get_the_same_share_a_sentence(table: Plan) -> None:
    lines = first_page(table).systems
    together = ", ".join(line.items for line in lines).replace("\u00a0", " ")
    assert "top" in together
    assert "base (leg × 4 and apron × 4)" in together
    assert all("2 coats of hardwax oil, abraded with P320 between coats" in line.sentence for line in lines)


def test_a_short_buffer_is_said(table: Plan) -> None:
    """In the measure in which it was wanted, kept cut down and wanted up; a day of the default shop has 8 hours."""
    assert _buffer_line(table, kept=(30.0, 12.0), wanted=Buffer(8.0, working=True)) == (
        "A buffer of 1.5 working days is left before delivery; 1 working day wanted."
    )
    assert _buffer_line(table, kept=(30.0, 3.99), wanted=Buffer(8.0, working=True)) == (
        "Only a buffer of 3.9 working hours is left before delivery, less than the 1 working day wanted: begin on time."
    )
    assert _buffer_line(table, kept=(24.0, 7.0), wanted=Buffer(24.0, working=False)) == (
        "A buffer of 1 day, 7 working hours of it, is left before delivery; 1 day wanted."
    )
    assert _buffer_line(table, kept=(6.0, 1.0), wanted=Buffer(24.0, working=False)) == (
        "Only a buffer of 6 hours, 1 working hour of it, is left before delivery, less than the 1 day wanted: begin on "
        "time."
    )
    for wanted in (Buffer(0.0, working=False), Buffer(8.0, working=True)):
        assert _buffer_line(table, kept=(-3.6, -2.6), wanted=wanted) == (
            "Late by 3 h 36 min: the date has passed when all is ready."
        )


def test_no_sample_board_is_asked_for_before_the_first_coat_where_one_is_on(table: Plan) -> None:
    assert first_page(table).sample.startswith("before the first coat, ")
    coats = [one.id for piece in table.pieces for one in piece.operations if one.finish is not None]
    begun = replace(table, wishes=replace(table.wishes, done={coats[0]: table.now}))
    assert first_page(with_stages(begun, timetable=table.timetable)).sample == ""


def test_the_day_on_which_it_was_made_is_not_that_on_which_work_may_begin(table: Plan) -> None:
    asked = replace(table, wishes=replace(table.wishes, soonest=datetime(2026, 11, 29, 12, tzinfo=UTC)))
    planned = with_stages(asked, timetable=table.timetable)
    assert " · made Sun 29 Nov 2026" in first_page(planned).kicker
    held = with_stages(replace(asked, held_since=datetime(2026, 11, 27, 9, tzinfo=UTC)), timetable=table.timetable)
    assert " · made Fri 27 Nov 2026" in first_page(held).kicker


def _buffer_line(plan: Plan, kept: tuple[float, float], wanted: Buffer) -> str:
    times = replace(plan.timetable.pieces[0], buffer_h=kept[0], buffer_working_h=kept[1])
    timetable = replace(plan.timetable, pieces=(times,), buffer=wanted, in_time_probability=None, surely_ready=None)
    late = dict(first_page(with_stages(plan, timetable=timetable)).not_to_plan)["Begun late"]
    assert (buffer_words(timetable) in late) is timetable.short_of_buffer
    return buffer_words(timetable)


def test_a_window_that_is_nearly_missed_is_said(blend: Plan) -> None:
    assert "or it must be abraded first" not in _slipping(blend)
    assert "or it must be abraded first" in _slipping(_nearly_missed(blend))


def test_a_window_is_of_no_account_where_it_is_abraded_anyway(table: Plan) -> None:
    assert _slipping(_nearly_missed(table)) == "The coat below sets no limit: it is abraded first."


def _slipping(plan: Plan) -> str:
    return dict(first_page(plan).not_to_plan)["A coat slips"]


def _nearly_missed(plan: Plan) -> Plan:
    """The plan with an hour to spare from the second coat to the end of the first one's window."""
    coat = next(step for step in plan.timetable.steps if step.step == "coat 1" and step.kind == "attended")
    after = next(step for step in plan.timetable.steps if step.step == "coat 2" and step.item == coat.item)
    steps = tuple(
        replace(step, next_until=after.start + timedelta(hours=1)) if step is coat else step
        for step in plan.timetable.steps
    )
    return with_stages(plan, timetable=replace(plan.timetable, steps=steps))


def test_two_components_are_poured_in_their_ratio(hostile: Plan) -> None:
    """4 to 1 by volume, and what is poured out is the sum of both: 3-1/2 + 7/8 = 4-3/8."""
    pours = [one for table in buying(hostile).coats for strip in table.strips for one in strip.pours if one.mix]
    assert pours
    (mixed,) = (table for table in buying(hostile).coats if any(pour.mix for pour in table.strips[0].pours))
    assert "the mix lasts 2 h 35 min" in mixed.hint, "the same of every pour, and told once"
    for pour in pours:
        (told,) = pour.mix
        how_often, parts = told.split(": ")
        assert how_often == "mix once"
        lacquer, hardener = (_eighths(part) for part in parts.split(" + "))
        assert lacquer == 4 * hardener
        assert _eighths(pour.decant) == lacquer + hardener


def test_how_thick_a_film_is_laid_is_told_once_where_it_is_the_same_of_every_pour(tmp_path: Path) -> None:
    (tmp_path / "piece.yaml").write_text(
        "piece: Two lids\nlengths: mm\ntimber: red-oak\nsystem: catalysed-lacquer\n"
        "parts:\n  lid: {shape: board, length: 600, width: 400, thickness: 20}\n"
        "  lip: {shape: board, length: 300, width: 60, thickness: 20}\n",
        encoding="utf-8",
    )
    (tmp_path / "shop.yaml").write_text(
        "shop: Two lids\nspray-without-booth: I have read the local code\n", encoding="utf-8"
    )
    plan = make_plan([read_source(tmp_path / "piece.yaml", tmp_path / "shop.yaml")], now=NOW)
    (of_all,) = buying(plan).coats
    pours = [pour for strip in of_all.strips for pour in strip.pours]
    assert len(pours) > 2
    assert of_all.hint.count("wet by the comb gauge") == 1
    assert [pour.mix for pour in pours if any("comb gauge" in line for line in pour.mix)] == []
    assert all(pour.mix for pour in pours), "what each takes of the components stands with it"


REASONS = [(grit, word) for grit in (120, 150, 180, 220) for word in ("first", "second", "third", "fourth")]


def cards_of(plan: Plan) -> tuple[SandingCard, ...]:
    """The sanding cards of the one piece of a plan."""
    return sanding_pages(plan)[0].cards


def _eighths(text: str) -> int:
    amount = text.replace("\u00a0", " ").split(" fl oz")[0]
    whole, _, fraction = amount.partition("-") if "-" in amount else ("0", "", amount)
    top, _, bottom = fraction.partition("/")
    return 8 * int(whole) + (int(top) * 8 // int(bottom) if bottom else 8 * int(top))


@pytest.mark.parametrize(
    ("probability", "said"), [(0.9999, "19 of 20"), (0.856, "17 of 20"), (0.0, "fewer than 1 of 20"), (1.0, "19 of 20")]
)
def test_how_sure_the_date_is_stands_on_the_first_page(probability: float, said: str, table: Plan) -> None:
    """In large type, marked where it is less sure than the shop wants, and then with what that means."""
    times = replace(table.timetable.pieces[0], in_time=probability)
    sure = replace(table.timetable, in_time_probability=probability, in_time_wanted=0.9, pieces=(times,))
    page = first_page(with_stages(table, timetable=sure))
    (fact,) = (fact for fact in page.facts if fact.name == "On time in")
    assert (fact.value, fact.short) == (said, probability < 0.9)
    assert bool(page.sure) is fact.short


def test_a_price_that_is_not_given_is_not_guessed(table: Plan) -> None:
    """And where nothing has a price there is no column of prices."""
    assert buying(table).total == ""
    assert not buying(table).priced
    assert {row.price for row in buying(table).materials} == {"–"}
    assert ">Price<" not in sheet_html(table)


def test_every_part_has_its_card_and_every_piece_its_box_at_every_grit(table: Plan) -> None:
    cards = cards_of(table)
    assert [card.part.split("\u00a0")[0] for card in cards] == ["top", "leg", "apron"]
    cells = [cell for card in cards for row in card.rows for cell in row.cells if cell is not None]
    groups = table.pieces[0].sanding.groups
    assert [cell.grit for cell in cells] == [step.grit for group in groups for step in group.steps]
    counts = [group.group.count for group in groups for _ in group.steps]
    assert [len(cell.boxes) for cell in cells] == counts
    boxes = [box for cell in cells for box in cell.boxes]
    assert len(set(boxes)) == len(boxes)
    assert "leg 2 of 4, " in " ".join(boxes)
    assert not any(card.ticks or card.drawn or card.count for card in cards)


def test_a_drawing_beside_a_matrix_is_smaller_and_says_no_scale(table: Plan) -> None:
    for card, (name, drawing) in zip(cards_of(table), table.pieces[0].drawings.items(), strict=True):
        (small,) = card.drawings
        assert small == reduced(drawing, DRAWING_MM), name
        assert ('width="85mm"' in drawing, f'width="{DRAWING_MM:g}mm"' in small) == (True, True)
        assert (" : " in drawing, " : " in small) == (True, False)


def test_the_grits_of_a_part_are_told_with_what_is_otherwise(table: Plan) -> None:
    """And where a face stops elsewhere, its row says so."""
    for card, part in zip(cards_of(table), table.pieces[0].surface.parts, strict=True):
        groups = [found for found in table.pieces[0].sanding.groups if found.group.part == part.part]
        ends = {found.steps[-1].grit for found in groups}
        assert ("Otherwise" in card.sequence) == (len({tuple(s.grit for s in found.steps) for found in groups}) > 1)
        marked = [row for row in card.rows if row.stop]
        assert len(marked) < len(card.rows)
        assert bool(marked) == (len(ends) > 1)


def test_what_all_pieces_take_is_told_with_what_one_takes(table: Plan) -> None:
    groups = [found for found in table.pieces[0].sanding.groups if found.group.part == "leg"]
    minutes = [60 * sum(getattr(found.hours, name) for found in groups) for name in ("typical", "low", "high")]
    whole = [math.ceil(value - 1e-6) for value in minutes]
    one = [math.ceil(value / 4 - 1e-6) for value in minutes]
    card = next(card for card in cards_of(table) if card.part.startswith("leg"))
    assert card.work == (f"all 4: {whole[0]} min ({whole[1]}–{whole[2]}), one: {one[0]} min ({one[1]}–{one[2]})")


def test_parts_that_are_sanded_alike_share_a_card_with_boxes_of_their_own(panels: Plan) -> None:
    (card,) = cards_of(panels)
    assert card.part == "panel 0, panel 1, panel 2, panel 3, panel 4 and 9 more"
    assert [ticks.part for ticks in card.ticks] == [part.part for part in panels.pieces[0].surface.parts]
    grits = {step.grit for group in panels.pieces[0].sanding.groups for step in group.steps}
    assert all({cell.grit for cell in ticks.grits} == grits for ticks in card.ticks)
    assert card.drawn == "Drawn: panel 0. The others are of the same shape; their drawings stand in the appendix."
    assert not any(cell.boxes for row in card.rows for cell in row.cells if cell is not None)


def test_the_rules_of_the_craft_are_said_once(table: Plan, two_pieces: Plan) -> None:
    for plan in (table, two_pieces):
        rules, stops = sanding_rules(plan), stop_reasons(plan)
        assert len(set(rules)) == len(rules)
        assert len(set(stops)) == len(stops)
        assert {"Flat faces", "End grain"} <= {rule.of for rule in rules}
        for found in (found for piece in plan.pieces for found in piece.sanding.groups):
            reason = found.stop_reason.removeprefix(found.stop_wanted)
            (stop,) = (stop for stop in stops if stop.endswith(f"{reason}."))
            assert found.stop_wanted in stop.removesuffix(f"{reason}.")


def test_the_rules_fill_both_columns(table: Plan, monkeypatch: pytest.MonkeyPatch) -> None:
    """Of four pieces all stood in the left one, since why it stops there was longer than all before it."""
    reasons = tuple(f"P{grit} for a timber of the {word} kind under a finish like no other." for grit, word in REASONS)
    monkeypatch.setattr("finplan.sheet.sanding_rules.stop_reasons", lambda _: reasons)
    columns = rules_in_two_columns(table)
    left, right = (sum(len(rule.of) + len(rule.words) for rule in column) for column in columns)
    assert abs(left - right) <= max(len(rule.of) + len(rule.words) for column in columns for rule in column)
    told = [rule for column in columns for rule in column]
    assert tuple(rule.words for rule in told[-len(reasons) :]) == reasons
    assert [rule.of for rule in told[-len(reasons) :]] == ["Where it stops", *[""] * (len(reasons) - 1)]


def test_the_order_tells_what_is_sanded_before_gluing_up_and_after(table: Plan) -> None:
    lines = {line.items: line.steps for line in sanding_order(table)}
    assert list(lines) == ["Top", "Base"]
    assert [step.partition(":")[0] for step in lines["Base"]] == [
        "Before gluing up, sand undersides and insides",
        "Before gluing up, sand the faces that are looked at",
        "When glued up, sand the 8 joints",
    ]


def test_a_shop_that_buys_by_numbers_sees_both_scales(table: Plan, hostile: Plan) -> None:
    """Near in size: P180 of 82 µm and CAMI 180 of 78 µm."""
    assert {head.other for card in cards_of(table) for head in card.grits} == {""}
    heads = {head.grit: head.other for card in cards_of(hostile) for head in card.grits}
    assert heads["P180"] == "CAMI 180"


def test_cautions_are_all_there_in_the_order_of_the_work(table: Plan) -> None:
    groups = caution_groups(table)
    assert sum(len(group.rows) for group in groups) == len(table.cautions)
    assert (groups[0].heading, groups[-1].heading) == ("Before you begin", "Always")


def test_what_the_shop_file_does_not_say_is_named_as_assumed(table: Plan, hostile: Plan) -> None:
    assert not any(row.given for row in conditions(table))
    given = {row.name for row in conditions(hostile) if row.given}
    assert given == {"time zone", "climate"}
    climate = next(row.value for row in conditions(hostile) if row.name == "climate")
    assert climate == "day 08:00–18:00 66 °F, 50 % humidity; night 45 °F, 65 % humidity"


def test_temperature_is_written_in_the_units_of_the_sheet(table: Plan, hostile: Plan) -> None:
    for plan, degree in ((table, "°C"), (hostile, "°F")):
        sessions = [one for day in working_days(plan) for people in day.people for one in people.sessions]
        read = [air.warmth for session in sessions for air in session.air]
        assert read
        assert all(warmth.endswith(degree) for warmth in read)


def test_drying_in_this_plan_is_told_beside_that_of_the_label(table: Plan) -> None:
    row = appendix(table).drying[0]
    assert row.label == "next coat after 12 h (8–24 h); within 7 days; cured 14 days (7–28 days)"
    drying = [step for step in table.timetable.steps if step.kind == "drying"]
    hours = [(step.next_from - step.start).total_seconds() / 3600 for step in drying if step.next_from is not None]
    told = dict.fromkeys(f"{one:.0f}" for one in (min(hours), max(hours)))
    assert row.here == f"next coat after {'–'.join(told)} h"


def test_sources_are_those_of_what_was_used(table: Plan) -> None:
    titles = [row.title for row in appendix(table).sources]
    assert len(titles) == len(set(titles))
    assert any(title.startswith("NFPA") for title in titles)
    assert not any("reach" in title.lower() or "diisocyanate" in title.lower() for title in titles)


def test_an_item_of_two_systems_is_named_with_its_faces(two_systems: Plan) -> None:
    """On the first page, in the picture, where it is measured out, day by day, and on the care card."""
    page = first_page(two_systems)
    for_whom = [line.items.replace("\u00a0", " ") for line in page.systems]
    assert "top (underside)" in for_whom
    assert "base (leg × 4; apron × 4: back)" in for_whom
    assert page.picture is not None
    names = [row.item for row in page.picture.rows]
    assert len(names) == len(set(names)) == 5
    assert names.pop() == "whole piece"
    assert {"top (underside)", "top (top and edge)", "base (leg; apron: back)"} <= set(names)
    assert {pour.item for table in buying(two_systems).coats for strip in table.strips for pour in strip.pours} == {
        *names,
        "Sample board",
    }
    rows = [row for day in working_days(two_systems) for row in day.rows]
    assert {row.item for row in rows if row.used} == set(names)
    assert {row.item for row in rows if not row.short} == {*names, "base", "whole piece"}
    assert "Top (underside)" in [row.items for row in care_cards(two_systems)[0].rows]
    left = [line for day in working_days(two_systems) for line in day.drying]
    assert left
    assert all(line.startswith(tuple(names)) for line in left)


def test_an_item_of_one_system_keeps_its_name(table: Plan) -> None:
    rows = [row for day in working_days(table) for row in day.rows]
    assert {row.item for row in rows if not row.short} == {"top", "base", "whole piece"}


def test_dust_that_sensitises_is_told_on_the_word_of_the_timber(table: Plan, panels: Plan) -> None:
    """Of ash it is recalled; white oak stands in the chart."""
    assert _source(table, "Timber that sensitises") == "recalled, not checked"
    chart = panels.catalogue.sources["sensitiser-chart-1990"].title
    assert _source(panels, "Timber that sensitises").startswith(chart)
    assert not any(row.title.startswith(chart) for row in appendix(table).sources)


def _source(plan: Plan, title: str) -> str:
    return next(row.source for group in caution_groups(plan) for row in group.rows if row.title == title)


def test_enough_is_never_told_surer_than_it_is(table: Plan) -> None:
    """Both on paper and on the terminal: 95.9 % is not 96."""
    (need,) = table.materials.materials
    supply = replace(need.supply, enough_probability=0.959)
    materials = replace(table.materials, materials=(replace(need, supply=supply),))
    assert buying(with_stages(table, materials=materials)).materials[0].enough == "95 %"
    lines = materials_lines(materials, table.catalogue, "metric")
    assert any(" 95 % " in line for line in lines)


def test_the_lathe_is_stopped_only_where_there_is_one(table: Plan) -> None:
    assert not any("lathe" in rule.words for rule in sanding_rules(table))
    (piece,) = table.pieces
    first = piece.sanding.groups[0]
    at_lathe = replace(first, steps=tuple(replace(step, method="lathe") for step in first.steps))
    turned = with_stages(table, pieces=(with_stages(piece, sanding=replace(piece.sanding, groups=(at_lathe,))),))
    assert any(rule.words.startswith("Stop the lathe") for rule in sanding_rules(turned))


def test_what_is_on_the_shelf_and_what_is_too_old(table: Plan) -> None:
    """Nothing is there in the default shop, and no column says so; 90 ml of an old can are told apart."""
    assert not buying(table).shelf
    (need,) = table.materials.materials
    old = Left("hardwax-oil", 90.0, date(2024, 1, 1), date(2024, 6, 29), good=False)
    fresh = Left("hardwax-oil", 150.0, date(2027, 1, 1), date(2027, 6, 30), good=True)
    there = replace(need, supply=replace(need.supply, shelf=OnShelf((old, fresh))))
    found = buying(with_stages(table, materials=replace(table.materials, materials=(there,))))
    assert found.shelf
    assert found.materials[0].shelf == "150 ml"
    assert found.spoiled == ("90 ml of Hardwax oil, opened Mon 1 Jan 2024, good until Sat 29 Jun 2024",)


def test_everything_that_is_used_up_is_on_the_list(table: Plan) -> None:
    listed = buying(table)
    assert set(listed.abrasives.grits) == {need.grit for need in table.pieces[0].sanding.abrasives}
    cells = [cell for row in listed.abrasives.rows for cell in row.cells if cell is not None]
    names = [row.name for row in listed.consumables]
    assert "Lint-free cotton cloth, about 0.1 m²" in names
    for_safety = [row.name for row in listed.safety]
    assert "Covered metal can for used cloths" in for_safety
    assert "Nitrile gloves, a pair" in for_safety
    assert "Half mask for cartridges and filters" in [row.name for row in listed.have]
    assert all(row.packs for row in (*cells, *listed.consumables, *listed.safety))


def test_shellac_is_made_up_before_its_coats(rubbed: Plan) -> None:
    (shellac,) = (found for found in buying(rubbed).coats if found.material.startswith("Shellac"))
    assert "shellac flakes in" in shellac.hint
    assert "240 g to a litre, a 2 lb cut" in shellac.hint
    first = shellac.strips[0].pours[0]
    assert any("thin with" in line and "1.2 lb cut" in line for line in first.mix)


FRAMED = """\
piece: Painted door
lengths: mm
timber: mdf
system: acrylic-enamel
parts:
  door: {shape: door, width: 500, height: 900, thickness: 22, frame: {stile: 80, rail: 80}, panel: {thickness: 9},
         timbers: {frame: poplar}}
"""


def test_the_same_faces_of_two_boards_are_told_apart(tmp_path: Path) -> None:
    """Of a framed door the front of the panel comes otherwise than that of the frame, and is sanded otherwise."""
    file = tmp_path / "door.yaml"
    file.write_text(FRAMED, encoding="utf-8")
    (pages,) = sanding_pages(make_plan([read_source(file, None)], now=datetime(2027, 3, 1, tzinfo=UTC)))
    (card,) = pages.cards
    faces = [row.faces for row in card.rows]
    assert "front and back (frame)" in faces
    assert len(set(faces)) == len(faces)


@pytest.mark.parametrize("name", ["two_systems", "rubbed", "two_pieces", "doors"])
def test_coats_that_set_no_limit_are_named(name: str, request: pytest.FixtureRequest) -> None:
    """Every coat is under the words that stand at its own step: by its name, or by the number that is ticked."""
    plan: Plan = request.getfixturevalue(name)
    told, after, names = _slipping(plan), NextWork(plan), Names(plan)
    coats = {row.id: row for row in (plan.timetable.steps) if row.kind == "attended" and row.deed in ("coat", "fill")}
    said = {row.id: after.below_words([row]) for row in coats.values()}
    alike = {words: [coats[row] for row, one in said.items() if one == words] for words in said.values() if words}
    assert alike
    for words, rows in alike.items():
        if len(alike) == 1:
            assert told == words
            continue
        which = told.partition(f": {words}")[0].rpartition(". ")[2]
        if which.startswith("Steps "):
            spans = [found.groups() for found in re.finditer(r"(\d+)(?:–(\d+))?", which)]
            numbers = [number for first, last in spans for number in range(int(first), int(last or first) + 1)]
            assert numbers == sorted(row.number or 0 for row in rows)
        else:
            assert which == listed(f"{names.of_row(row)}, {row.step}" for row in rows)
