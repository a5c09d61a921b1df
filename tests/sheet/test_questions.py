"""Fifteen questions of an assistant who was not there when it was planned, each answered in words on its page.

What is looked for is made from the plan, not from the strings that the sheet makes of it.
"""

from __future__ import annotations

import html
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import Any

import pytest

from finplan.demo import write_demo
from finplan.moments import not_after, not_before, show_clock, show_day, show_moment
from finplan.planning import Plan, read_source
from finplan.sheet import sheet_html, sheet_of
from finplan.sheet.day_room import care_mm
from finplan.sheet.front_room import SETTINGS, front_mm
from finplan.sheet.html import render
from finplan.sheet.section_room import safety_mm
from finplan.sheet.view import always
from finplan.showing import show_flow, show_temperature
from finplan.system import CoatStep
from finplan.telling import Mixing
from finplan.timetable import TimetableStep
from tests.plans import make_plan
from tests.safety.pieces import NOW, SHOP
from tests.sheet.pages import boxes, laid_out


@dataclass(frozen=True)
class Question:
    """What is asked, the section that answers it, and the words without which it is not answered."""

    asked: str
    section: str
    words: Callable[[Plan], Iterator[str]]


def attended(plan: Plan) -> list[TimetableStep]:
    return [row for row in plan.timetable.steps if row.kind == "attended"]


def coats(plan: Plan) -> list[TimetableStep]:
    return [row for row in attended(plan) if row.deed == "coat"]


def _first(plan: Plan) -> Iterator[str]:
    row = attended(plan)[0]
    yield from (show_day(row.start.date()), f"{show_clock(row.start)}–", row.step.capitalize())


def _tin(plan: Plan) -> Iterator[str]:
    row = coats(plan)[0]
    measured = plan.materials.measured_at(row.of_step or "", row.side)
    assert measured is not None
    mixing = Mixing(plan.catalogue, plan.units)
    yield plan.catalogue.finishes[measured.coat.finish].title
    yield from (mixing.poured(measured), f"Have up to {mixing.up_to(measured)} at hand")


def _face(plan: Plan) -> Iterator[str]:
    yield "Sand undersides and insides"
    yield "so that nothing marks it"


def _grit(plan: Plan) -> Iterator[str]:
    found = [one for one in plan.pieces[0].sanding.groups if "underside" in one.group.faces]
    assert found
    for group in found:
        yield "underside"
        yield from (step.grit for step in group.steps)


def _minutes(plan: Plan) -> Iterator[str]:
    part = next(part for part in plan.pieces[0].surface.parts if part.part == "leg")
    assert part.count == 4
    yield "leg × 4"
    yield "all 4: "
    yield "one: "


def _mask(plan: Plan) -> Iterator[str]:
    for report in plan.safety.sessions:
        mask = report.session.mask
        yield "none against vapour" if mask is None else plan.catalogue.respirators[mask].title


def _fan(plan: Plan) -> Iterator[str]:
    yield "With the fan"
    for report in plan.safety.sessions:
        found = report.session.fan_on
        yield "not known" if found is None else show_flow(found.flow_m3_h, plan.units)


def _cloths(plan: Plan) -> Iterator[str]:
    hazards = [plan.catalogue.finishes[step.finish].hazards for step in finishes(plan)]
    yield "Before you lock up:"
    if any(one.self_heating for one in hazards):
        yield "stands outdoors with its lid on."
    elif any(one.isocyanate for one in hazards):
        yield "none of it shut tightly"
    elif any(one.flammable for one in hazards):
        yield "is in the covered metal can, its lid on, out of the building."


def finishes(plan: Plan) -> list[CoatStep]:
    return [step for one in plan.treatments for step in one.steps if isinstance(step, CoatStep)]


def _cold(plan: Plan) -> Iterator[str]:
    yield "Too cold or damp"
    for step in finishes(plan):
        yield show_temperature(plan.catalogue.finishes[step.finish].apply.temperature_c.low, plan.units)[:2]
    yield "Else leave the tin shut, heat or wait, and ring."


def _tacky(plan: Plan) -> Iterator[str]:
    yield "Still tacky"
    yield "try again later where nobody looks"


def _late(plan: Plan) -> Iterator[str]:
    for row in coats(plan):
        latest = plan.slips.latest.get(row.id)
        if latest is not None and latest > row.start:
            yield f"Latest start {show_moment(not_after(latest))}."


def _second(plan: Plan) -> Iterator[str]:
    yield "The coat below sets no limit"


def _touch(plan: Plan) -> Iterator[str]:
    for row in plan.timetable.steps:
        if row.kind == "drying":
            yield show_moment(not_before(row.end))


def _sample(plan: Plan) -> Iterator[str]:
    yield f"Sample board, before the first coat, {show_moment(coats(plan)[0].start)}"
    yield f"found good by {plan.pieces[0].source.piece.customer or 'the maker'}"


def _ring(plan: Plan) -> Iterator[str]:
    yield f"Ring if in doubt: {plan.shop.ring}"


LATE = "how late may this step begin"
QUESTIONS = (
    Question("what is done first", "overview", _first),
    Question("which tin, and how much of it", "days", _tin),
    Question("which face first", "sanding", _face),
    Question("which grit on the underside", "sanding", _grit),
    Question("how many minutes for one leg, and for all", "sanding", _minutes),
    Question("which mask", "safety", _mask),
    Question("does the fan do", "safety", _fan),
    Question("where do the cloths go", "days", _cloths),
    Question("it is 10 degrees", "overview", _cold),
    Question("it is still tacky", "overview", _tacky),
    Question(LATE, "days", _late),
    Question("how late may coat 2 go on", "days", _second),
    Question("when may it be touched", "days", _touch),
    Question("the sample board: when, and who finds it good", "overview", _sample),
    Question("whom to ring", "overview", _ring),
)

PAGES: dict[str, tuple[int, ...]] = {
    "what is done first": (1,),
    "which tin, and how much of it": (2, 3),
    "which face first": (5,),
    "which grit on the underside": (5,),
    "how many minutes for one leg, and for all": (5,),
    "which mask": (4,),
    "does the fan do": (4,),
    "where do the cloths go": (2, 3),
    "it is 10 degrees": (1,),
    "it is still tacky": (1,),
    LATE: (2, 3),
    "how late may coat 2 go on": (2, 3),
    "when may it be touched": (2, 3),
    "the sample board: when, and who finds it good": (1,),
    "whom to ring": (1,),
}
"""On which pages of the demo's table in shellac the answers stand: on all on which a day tells of a coat."""

FAN = "volume: 60 m3, air-changes: 2, fan: 300 m3/h"
RING = "ring: Ada, +00 0000 000000\n"


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's files, and a shop with a fan that says whom to ring."""
    folder = tmp_path_factory.mktemp("questions")
    write_demo(folder, date(2027, 1, 4))
    (folder / "shop.yaml").write_text(RING + SHOP.replace("ROOM", FAN), encoding="utf-8")
    return folder


@pytest.fixture(scope="module", params=["shellac", "hardwax-oil", "bench"])
def plan(demo: Path, request: pytest.FixtureRequest) -> Plan:
    """The demo's table in shellac and in an oil, and its bench in a waterborne finish."""
    name = "hall-bench" if request.param == "bench" else "round-table"
    text = (demo / f"{name}.yaml").read_text(encoding="utf-8")
    file = demo / f"{name}-{request.param}.yaml"
    file.write_text(re.sub("system: shellac", f"system: {request.param}", text), encoding="utf-8")
    return make_plan([read_source(file, demo / "shop.yaml")], now=NOW)


def by_section(page: str) -> dict[str, str]:
    """The words of each section, by the first name of its class, with single spaces."""
    told: dict[str, str] = {}
    for name, inner in re.findall(r'<section class="(\w+)[^"]*">(.*?)</section>', page, flags=re.DOTALL):
        bare = re.sub(r"<svg.*?</svg>", " ", inner, flags=re.DOTALL)
        told[name] = told.get(name, "") + spaced(html.unescape(re.sub(r"<[^>]*>", "", bare)))
    return told


def spaced(text: str) -> str:
    return " ".join(text.replace("\u00a0", " ").split())


def test_every_question_is_answered(plan: Plan) -> None:
    told = by_section(sheet_html(plan))
    for question in QUESTIONS:
        wanted = [spaced(words) for words in question.words(plan)]
        assert wanted or question.asked == LATE
        assert [words for words in wanted if words not in told[question.section]] == [], question.asked


def test_an_answer_stands_on_the_front_or_a_page_that_begins_with_its_section(plan: Plan) -> None:
    """And the front says on which page a day stands: so nobody looks for it. Of one of the plans, for its time."""
    if plan.pieces[0].surface.parts[0].part != "top" or "shellac" not in plan.treatments[0].system:
        pytest.skip("laid out once")
    sheet = sheet_of(plan)
    pages = laid_out(render(sheet))
    answers = {question.section for question in QUESTIONS}
    assert pages[0].sections == ["overview"]
    assert len(pages) <= 6
    on = {section: [page for page in pages if section in page.sections] for section in answers}
    stands: dict[str, set[int]] = {}
    for question in QUESTIONS:
        for words in question.words(plan):
            found = [page.number for page in on[question.section] if squeezed(words) in page.text]
            assert found, (question.asked, words)
            stands.setdefault(question.asked, set()).update(found)
    assert {asked: tuple(sorted(found)) for asked, found in stands.items()} == PAGES
    assert [len(on[section]) for section in ("overview", "safety", "sanding")] == [1, 1, 1]
    for day in sheet.days:
        parts = sum(squeezed(day.heading) in page.text for page in on["days"])
        assert parts == 1 or day.anchor in sheet.going_on, day.heading
    setting = next(one for one in SETTINGS if one.name == sheet.front)
    reckoned = {
        "overview": front_mm(sheet.first, sheet.name, sheet.page_size, setting),
        "safety": safety_mm(sheet.safety, sheet.moments, always(sheet.cautions), sheet.page_size),
        "care": care_mm(sheet.care[0], sheet.page_size),
    }
    placed = dict.fromkeys(reckoned, 0.0)
    for box in (box for page in pages for box in boxes(page.box) if is_section(box)):
        name = str(box.element.get("class")).split()[0]
        placed[name] = placed.get(name, 0.0) + box.border_height() * 25.4 / 96
    close = 0.79 if sheet.safety_close else 1.0
    for section, height_mm in reckoned.items():
        wanted_mm = height_mm * (close if section == "safety" else 1.0)
        assert placed[section] == pytest.approx(wanted_mm, rel=0.08), section


def squeezed(text: str) -> str:
    return "".join(text.split())


def is_section(box: Any) -> bool:
    return bool(box.element_tag == "section")


def test_the_card_of_two_finishes_stands_below_the_last_day_and_safety_has_its_page(tmp_path: Path) -> None:
    """Of the demo's shelf on US paper: a card that just did not fit took the page of the safety, which went on."""
    write_demo(tmp_path, date(2026, 11, 30))
    source = read_source(tmp_path / "book-shelf.yaml", tmp_path / "shop.yaml", paper="letter")
    plan = make_plan([source], now=datetime(2026, 11, 30, 9, 50, tzinfo=NOW.tzinfo))
    sheet = sheet_of(plan)
    pages = laid_out(render(sheet))
    on = {name: [page for page in pages if name in page.sections] for name in ("days", "care", "safety")}
    assert on["care"] == on["days"][-1:]
    assert len(on["safety"]) == 1
    assert len(pages) == 6
    of_card = [box for box in boxes(on["care"][0].box) if is_section(box) and box.element.get("class") == "care"]
    high_mm = of_card[0].border_height() * 25.4 / 96
    assert care_mm(sheet.care[0], sheet.page_size) == pytest.approx(high_mm, rel=0.05)
