"""Everything that a plan holds can be read in the printed file, in its section, and what belongs to a day on that day.

What is looked for is made from the plan, not from the strings that the sheet makes of it.
"""

from __future__ import annotations

import html
import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cached_property
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from finplan.listing import listed
from finplan.material.measuring import pour_up
from finplan.planning import Plan, caution_sources, used_sources
from finplan.sheet import sheet_html
from finplan.showing import plain, show_amount, show_area, show_measured, show_pack_of
from finplan.telling import Mixing, duty_words, short_title
from finplan.timetable import TimetableStep
from finplan.typesetting import write_pdf
from tests.sheet.tables import cells_of, words

FIRST_PAGE = "Finishing schedule"
SECTIONS = ("Days", "Safety", "Sanding", "Buy and mix", "Care card", "Appendix")
TOP_PT = 60.0
"""What begins no further from the edge of the paper begins its page: 21 mm."""
FIVE_MIN = timedelta(minutes=5)


def squeezed(text: str) -> str:
    """Text without white space and soft hyphens: lines break anywhere."""
    return re.sub(r"[\s\u00ad]", "", text)


@dataclass(frozen=True)
class Printed:
    """The words of a printed sheet, as they are found by who searches the file."""

    file: Path

    @cached_property
    def sections(self) -> dict[str, list[str]]:
        """The pages of every section, by its heading; a care card for each piece adds to the ones before it."""
        reader = PdfReader(self.file)
        texts = [squeezed(page.extract_text()) for page in reader.pages]
        outline: Any = reader.outline[1]
        starts: dict[int, list[str]] = {}
        at_top: dict[int, bool] = {}
        for entry in outline:
            if not isinstance(entry, list) and entry["/Title"] in SECTIONS:
                page = reader.get_destination_page_number(entry) or 0
                starts.setdefault(page, []).append(str(entry["/Title"]))
                at_top.setdefault(page, float(reader.pages[page].mediabox.height) - float(entry["/Top"]) < TOP_PT)
        found: dict[str, list[str]] = {}
        titles = [FIRST_PAGE]
        for number, text in enumerate(texts):
            begun = starts.get(number, titles[-1:])
            # What begins further down stands below what ends on its page.
            titles = begun if at_top.get(number, True) else [*titles[-1:], *begun]
            for title in dict.fromkeys(titles):
                found.setdefault(title, []).append(text)
        return found

    def section(self, title: str) -> str:
        return "".join(self.sections[title])

    def day(self, day: date, days: set[date]) -> str:
        """What stands under the heading of a day, on all its pages."""
        headings = {squeezed(in_words(one)): one for one in days}
        parts = re.split(f"({'|'.join(headings)})", self.section("Days"))
        return "".join(
            words for heading, words in zip(parts[1::2], parts[2::2], strict=True) if headings[heading] == day
        )

    def pages_of(self, day: date) -> str:
        """All pages on which a day stands: what floats to the edge is found before the heading of its page."""
        return "".join(page for page in self.sections["Days"] if squeezed(in_words(day)) in page)


def in_words(day: date) -> str:
    """Tests run in the C locale, in which names of days and months are English."""
    return f"{day:%A} {day.day} {day:%B} {day.year}"


def moment(when: datetime) -> str:
    return f"{when:%a} {when.day} {when:%b} {when:%H:%M}"


def rounded_up(when: datetime) -> datetime:
    down = rounded_down(when)
    return down if down == when else down + FIVE_MIN


def rounded_down(when: datetime) -> datetime:
    return when - timedelta(minutes=when.minute % 5, seconds=when.second, microseconds=when.microsecond)


def missing(wanted: Iterator[str], text: str) -> list[str]:
    return [words for words in dict.fromkeys(wanted) if squeezed(words) not in text]


@pytest.fixture(scope="module", params=["hostile", "two_pieces", "blend"])
def plan(request: pytest.FixtureRequest) -> Plan:
    """A plan: of one piece or two, of one coating or another, in either system of units."""
    found: Plan = request.getfixturevalue(request.param)
    return found


@pytest.fixture(scope="module")
def printed(plan: Plan, request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Printed:
    """The same, printed."""
    if plan is request.getfixturevalue("hostile"):
        return Printed(request.getfixturevalue("hostile_pdf"))
    if plan is request.getfixturevalue("two_pieces"):
        return Printed(request.getfixturevalue("two_pieces_pdf"))
    file = tmp_path_factory.mktemp("pdf") / "sheet.pdf"
    write_pdf(sheet_html(plan, with_appendix=True), file)
    return Printed(file)


def test_the_first_page(plan: Plan, printed: Printed) -> None:
    def wanted() -> Iterator[str]:
        for piece, times in zip(plan.pieces, plan.timetable.pieces, strict=True):
            yield piece.name
            yield f"for {piece.source.piece.customer}" if piece.source.piece.customer else ""
            yield from (f"{when:%H:%M}" for when in (times.deliver,) if when is not None)
        yield from (plan.catalogue.systems[treatment.system].title for treatment in plan.treatments)
        yield from plan.shop.notes.first_page
        yield f"{plan.timetable.steps[0].start:%H:%M}"

    assert missing(wanted(), printed.section(FIRST_PAGE)) == []


def test_what_to_buy_and_to_pour_out(plan: Plan, printed: Printed) -> None:
    units, materials = plan.units, plan.materials

    def wanted() -> Iterator[str]:
        for supply in materials.supplies:
            amounts = (supply.needed.low, supply.needed.typical, supply.needed.high)
            packs = [
                f"{one.count} × ({' + '.join(show_pack_of(part, 'ml', units) for part in one.parts)})"
                if one.parts
                else f"{one.count} × {show_pack_of(one.size, supply.measure, units)}"
                for one in supply.buy
            ]
            yield supply.title.partition(" (")[0]
            yield from packs
            yield "".join(show_amount(amount, supply.measure, units) for amount in amounts)
        for need in materials.consumables:
            packs = [f"{one.count} pack" if one.size > 1 else f"{one.count}" for one in need.buy]
            name = short_title(need.title, units)
            yield name if need.grit else f"{name}{need.at_confidence}{packs[0] if packs else ''}"
        for material in materials.materials:
            yield plan.catalogue.finishes[material.material].title
            for coat in material.coats:
                for one in materials.measured_of(coat):
                    up_to = show_measured(pour_up(one.coat.needed_ml.high, plan.catalogue.measuring[units]), units)
                    yield f"up to {up_to}, {show_area(one.coat.area_m2, units)}"
                    poured = f"{plain(one.mix.decant.volume_ml or 0)} ml"
                    yield poured if units == "metric" and not one.mix.parts else ""
                    for part in one.mix.parts:
                        yield f"{show_measured(part.volume_ml or 0, units)}"
                        yield part.name

    assert missing(wanted(), printed.section("Buy and mix")) == []


def test_every_abrasive_stands_with_its_grit(plan: Plan) -> None:
    """What is needed and what is bought, in the cell of its kind and its grit."""
    (grid,) = cells_of(sheet_html(plan), "grid")
    told = {(cell.row, cell.column): cell.text for cell in grid if cell.text}
    wanted = {}
    for need in plan.materials.consumables:
        if need.grit is not None:
            packs = [f"{one.count} pack" if one.size > 1 else f"{one.count}" for one in need.buy]
            wanted[short_title(need.title, plan.units), need.grit] = f"{need.at_confidence} {packs[0]}"
    assert wanted
    assert set(told) == set(wanted)
    assert [key for key, words in wanted.items() if not told[key].startswith(words)] == []


def test_every_coat_stands_in_the_strip_of_its_material(plan: Plan) -> None:
    """What an item takes of a coat: poured out, its area and the most, after the label of the coat."""
    page = sheet_html(plan)
    strips = re.findall(r'<div class="strip[^"]*"><p class="coat">([^<]*)</p>(.*?)</div>', page, flags=re.DOTALL)
    told = [(label, words(pours)) for label, pours in strips]
    mixing = Mixing(plan.catalogue, plan.units)
    coats = plan.materials.coats
    for one in (one for coat in coats for one in plan.materials.measured_of(coat)):
        wanted = [mixing.poured(one), show_area(one.coat.area_m2, plan.units), f"up to {mixing.up_to(one)}"]
        name = "Sample board" if one.coat.item == "sample board" else one.coat.item
        assert any(
            one.label in labels_in(at) and name in pours and all(w in pours for w in wanted) for at, pours in told
        ), one.label


def labels_in(told: str) -> list[str]:
    """The coats of a strip: one, or several of which the same is measured out."""
    several = re.fullmatch(r"Coats (.*), each", told)
    if several:
        spans = [span.split("–") for span in re.split(", | and ", several[1])]
        return [f"coat {number}" for span in spans for number in range(int(span[0]), int(span[-1]) + 1)]
    labels = re.split(" and ", told.removesuffix(", each")) if told.endswith(", each") else [told]
    return [label[:1].lower() + label[1:] for label in labels]


def test_every_part_has_its_grits(plan: Plan, printed: Printed) -> None:
    """Each face in a row, each grit in its column, with the minutes of all pieces and a box for every one of them."""
    parts = [part for piece in plan.pieces for part in piece.source.piece.parts]
    assert missing(iter(parts), printed.section("Sanding")) == []
    rows = [cell for table in cells_of(sheet_html(plan), "matrix") for cell in table]
    for group in (group for piece in plan.pieces for group in piece.sanding.groups):
        faces, pieces = group.group.faces, group.group.count
        for step in group.steps:
            took = f"{math.ceil(step.hours.typical * 60)} min" if step.hours.high * 60 >= 1 else "under 1 min"
            (cell,) = (
                cell
                for cell in rows
                if cell.row.startswith(listed(faces))
                and cell.column.startswith(step.grit)
                and cell.text.startswith(took)
                and any(box.startswith(html.escape(group.group.part)) for box in cell.boxes)
            )
            assert len(cell.boxes) == pieces, cell


def test_every_step_stands_on_its_day(plan: Plan, printed: Printed) -> None:
    steps = [step for step in plan.timetable.steps if step.kind == "attended"]
    days = {step.start.date() for step in steps}
    for day in days:
        text = printed.day(day, days)

        def wanted(day: date = day) -> Iterator[str]:
            for step in (step for step in steps if step.start.date() == day):
                yield step.person or ""
                if step.deed == "clean-up":
                    yield f"{step.start:%H:%M} Clean up with"
                else:
                    yield f"{step.start:%H:%M}–{step.end:%H:%M}"
                    yield step.room
                    yield f"{step.item}: {step.step[:1].upper()}{step.step[1:]}"
            yield from plan.shop.notes.every_day

        assert missing(wanted(), text) == []


def test_every_drying_is_told_on_its_day(plan: Plan, printed: Printed) -> None:
    """Rounded up to five minutes, so that nothing is touched too early; a first side until it may be turned over."""
    days = {step.start.date() for step in plan.timetable.steps if step.kind == "attended"}
    drying = [step for step in plan.timetable.steps if step.kind == "drying"]
    assert drying
    for step in drying:
        assert squeezed(moment(rounded_up(step.end))) in printed.day(step.start.date(), days), step.id


def test_every_window_is_told_with_its_coat(plan: Plan, printed: Printed) -> None:
    days = {step.start.date() for step in plan.timetable.steps if step.kind == "attended"}
    last: dict[str, TimetableStep] = {
        step.id: step for step in plan.timetable.steps if step.kind == "attended" and step.next_from is not None
    }
    told = 0
    for treatment in plan.treatments:
        for step, after in zip(treatment.steps, (*treatment.steps[1:], None), strict=True):
            row = last.get(step.id)
            if row is None or row.next_from is None or (after is not None and after.do == "rub-out"):
                continue
            text = printed.day(row.start.date(), days)
            fit = (
                row.next_from
                if any(one.finish for one in treatment.steps[treatment.steps.index(step) + 1 :])
                else row.handle_from
            )
            assert fit is not None
            assert squeezed(moment(rounded_up(fit))) in text
            told += 1
            if after is not None and after.finish is not None and row.next_until is not None:
                assert squeezed(f"not after {moment(rounded_down(row.next_until))}") in text
    assert told


def test_what_a_coat_takes_stands_on_its_day(plan: Plan, printed: Printed) -> None:
    begun = {step.id: step for step in reversed(plan.timetable.steps) if step.kind == "attended"}
    whole = [
        (coat, begun[coat.step.id]) for need in plan.materials.materials for coat in need.coats if coat.step.id in begun
    ]
    for coat, row in whole:
        words = squeezed(show_measured(pour_up(coat.needed_ml.high, plan.catalogue.measuring[plan.units]), plan.units))
        assert words in printed.pages_of(row.start.date()), row.id


def test_every_tick_stands_on_its_day(plan: Plan, printed: Printed) -> None:
    days = {step.start.date() for step in plan.timetable.steps if step.kind == "attended"}
    for tick in plan.precautions.ticks:
        assert squeezed(duty_words(tick, plan)) in printed.day(tick.due.date(), days)


def test_every_caution_stands_on_the_page_of_safety(plan: Plan, printed: Printed) -> None:
    assert plan.cautions
    wanted = (f"{line.title}. {line.text}" for line in plan.cautions)
    assert missing(wanted, printed.section("Safety")) == []


def test_every_reason_and_source_of_a_caution_stands_in_the_appendix(plan: Plan, printed: Printed) -> None:
    def wanted() -> Iterator[str]:
        for line in plan.cautions:
            yield f"{line.title}. {line.reason}"
            for key in caution_sources(plan, line):
                yield "recalled, not checked" if key == "memory" else plan.catalogue.sources[key].title

    assert missing(wanted(), printed.section("Appendix")) == []


def test_what_it_was_made_of_stands_without_the_appendix(plan: Plan, printed: Printed) -> None:
    assert missing(iter((plan.digest, plan.version, "finplan plan --json")), printed.section("Safety")) == []


def test_the_care_card_has_every_system(plan: Plan, printed: Printed) -> None:
    def wanted() -> Iterator[str]:
        for name in {treatment.system for treatment in plan.treatments}:
            system = plan.catalogue.systems[name]
            of_system = sum(step.do == "coat" for step in system.steps)
            counts = {
                sum(step.do == "coat" and group in step.groups for step in treatment.steps)
                for treatment in plan.treatments
                if treatment.system == name
                for group in treatment.groups
            }
            yield system.title if counts == {of_system} else system.title.partition(",")[0]  # else it counts them
        yield from (piece.name for piece in plan.pieces)
        yield from plan.shop.notes.care_card

    assert missing(wanted(), printed.section("Care card")) == []


def test_the_appendix_has_areas_conditions_and_sources(plan: Plan, printed: Printed) -> None:
    shop = plan.shop

    def wanted() -> Iterator[str]:
        for piece in plan.pieces:
            for part in piece.surface.parts:
                yield from (f"{face.face}{face.exposure}{show_area(face.area_m2, plan.units)}" for face in part.faces)
        yield str(shop.time_zone)
        for person in shop.people:
            yield person.name
            yield ", ".join(person.skills)
        for name, room in shop.rooms.items():
            yield f"{name}: {', '.join(room.for_)}"
        yield f"{shop.rack.places} flat places, {shop.rack.hooks} hooks"
        yield ", ".join(shop.grits)
        for air in (shop.climate.day, shop.climate.night):
            if air is not None:
                degrees = air.temperature_c if plan.units == "metric" else air.temperature_c * 9 / 5 + 32
                yield f"{degrees:.0f} °{'C' if plan.units == 'metric' else 'F'}, {plain(air.humidity_pct)} % humidity"
        yield from (plan.catalogue.sources[key].title for key in used_sources(plan))
        yield from (plan.digest, plan.version)

    assert missing(wanted(), printed.section("Appendix")) == []
