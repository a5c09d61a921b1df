"""Twenty parts with long names in many alphabets over forty days, and one part alone: nothing is cut or runs off."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from finplan.listing import shortened
from finplan.moments import show_clock, show_long_day
from finplan.planning import Plan, PlannedPiece, read_source
from finplan.sheet import sheet_html, sheet_of
from finplan.sheet.first_page import first_page
from finplan.sheet.html import render
from finplan.timetable import PieceTimes, Timetable, TimetableStep
from tests.planned_once import DRAFTING, as_drafts
from tests.plans import make_plan
from tests.printed_once import Printer
from tests.sheet.conftest import NOW
from tests.sheet.pages import Page, head, laid_out, placed, printed

UNBREAKABLE = "Donaudampfschifffahrtselektrizitätenhauptbetriebswerkbauunte"  # invented names, as all here
PIECE = f"""\
piece: "Ausziehbare Festtafel für den Łódźer Gesangverein „Čapek & 東京“ mit zwanzig Teilen und einem sehr langen Namen"
customer: "{UNBREAKABLE}, z. Hd. Ελένη Παπαδοπούλου, <b>Nguyễn</b>, file:///etc/passwd, http://example.invalid/x.png"
lengths: mm
timber: white-oak
system: %s
deliver: 2027-04-30 15:00
assemblies:
  "Untergestell mit Zargen und gedrechselten Beinen": {{parts: [Bein (Łódź), Zarge lang]}}
%s
parts:
  "Tischplatte, mittlerer Teil, mit umlaufender Hohlkehle":
    {{shape: rectangle, length: 1400, width: 950, thickness: 30, edge: {{top: ogee 8, bottom: chamfer 3}}}}
  Bein (Łódź): {{shape: square-leg, side: 80, length: 690, count: 4}}
  Zarge lang: {{shape: board, length: 1180, width: 110, thickness: 24, count: 2}}
  "東京 引き出し": {{shape: drawer, width: 420, height: 110, depth: 380, thickness: 12, bottom: 6, count: 2}}
  "{UNBREAKABLE}": {{shape: rod, diameter: 30, length: 900}}
  "<img src=http://example.invalid/x.png> file:///etc/passwd":
    {{shape: rod, diameter: 20, length: 300}}
""" + "".join(
    f'  "Einlegeboden {number} für die Anrichte aus Čapeks Werkstatt": '
    f"{{shape: board, length: {600 + 10 * number}, width: 280, thickness: 20}}\n"
    for number in range(1, 15)
)
IN_TWO = "".join(
    f'  "Einlegeböden für Ελένη ({first} ff.)": {{parts: ['
    + ", ".join(f'"Einlegeboden {number} für die Anrichte aus Čapeks Werkstatt"' for number in range(first, first + 7))
    + "]}\n"
    for first in (1, 8)
)
SHOP = """\
shop: "Möbelwerkstatt „Zum schnellen Hobel“ Żółkiewski & 東京木工, Łódź"
paper: {paper}
spray-without-booth: I have read the local code
units: {units}
time-zone: Europe/Warsaw
people: [{{name: Brunhilde-Aleksandra Wawrzyniak-Hohenstein, hours: {{mon-fri: 8:00-16:00}}}}]
rooms:
  "großer Maschinensaal im Hinterhof": {{for: [sanding, assembly]}}
  lak: {{for: [coating, drying], volume: 60 m3, air-changes: 2}}
"""
ONE = """\
piece: Board
lengths: mm
timber: beech
system: soap
parts: {board: {shape: board, length: 300, width: 200, thickness: 20}}
"""
DAYS = 40
TWENTY_ITEMS = ("a4", "metric", "hardwax-oil", "")
SEVEN_MIXED = ("letter", "us", "polyurethane-2k", IN_TWO)


def over_forty_days(pieces: Sequence[PlannedPiece], *_: object, now: datetime, **__: object) -> Timetable:
    """A timetable made by hand, the operations in turn: the real one of so large a piece takes long to find."""
    (piece,) = pieces
    name, zone = piece.source.piece.name, piece.source.shop.time_zone
    steps: list[TimetableStep] = []
    for number, operation in enumerate(piece.operations):
        day, rest = divmod(number * DAYS, len(piece.operations))
        start = now.astimezone(zone) + timedelta(days=day, hours=6 * rest / len(piece.operations))
        end = start + timedelta(minutes=30)
        dry = None if operation.finish is None else end + timedelta(hours=20)
        row = TimetableStep(
            operation.id, name, operation.item, operation.label, "attended", operation.deed, start, end,
            "Brunhilde-Aleksandra Wawrzyniak-Hohenstein", "großer Maschinensaal im Hinterhof", dry, None, dry, dry,
            of_step=operation.of_step, side=operation.side,
        )  # fmt: skip
        steps.append(row)
        if dry is not None:
            steps.append(TimetableStep(
                f"{row.id}/dry", name, row.item, f"{row.step} dries", "drying", row.deed, end, dry, None, "lak",
                next_from=dry, handle_from=dry, alone_until=dry, of_step=row.of_step, side=row.side,
                dries=row.id,
            ))  # fmt: skip
    steps.sort(key=lambda step: step.start)
    ready = max(step.end for step in steps)
    times = PieceTimes(name, steps[0].start, ready, ready + timedelta(days=1), 24.0, 8.0)
    return Timetable("feasible", steps=tuple(steps), pieces=(times,), start=steps[0].start, ready=ready)


@pytest.fixture(
    scope="module",
    params=[TWENTY_ITEMS, SEVEN_MIXED],
    ids=["a4", "letter"],
)
def large(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """The large piece, on the paper and in the units of either side of the ocean; there in fewer items."""
    paper, units, system, assemblies = request.param
    folder = tmp_path_factory.mktemp("large")
    (folder / "piece.yaml").write_text(PIECE % (system, assemblies), encoding="utf-8")
    (folder / "shop.yaml").write_text(SHOP.format(paper=paper, units=units), encoding="utf-8")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(DRAFTING, as_drafts(over_forty_days))
        return make_plan([read_source(folder / "piece.yaml", folder / "shop.yaml")], now=NOW)


@pytest.fixture(scope="module")
def pages(large: Plan) -> list[Page]:
    """The pages of it."""
    return laid_out(sheet_html(large, with_appendix=True))


@pytest.fixture(scope="module")
def one_part(tmp_path_factory: pytest.TempPathFactory) -> list[Page]:
    """The pages of one part, and nothing else."""
    file: Path = tmp_path_factory.mktemp("one") / "piece.yaml"
    file.write_text(ONE, encoding="utf-8")
    return laid_out(sheet_html(make_plan([read_source(file, None)], now=NOW)))


def faults(pages: Sequence[Page]) -> list[str]:
    """What is wrong with the layout of pages."""
    paper_edge = 5 * 96 / 25.4  # what no printer reaches
    told: list[str] = []
    with_rows: dict[object, list[bool]] = {}
    for page in pages:
        width, height = page.box.margin_width(), page.box.margin_height()
        edge = (paper_edge, paper_edge, width - paper_edge, height - paper_edge)
        told += [] if page.placed else [f"{page.number}: empty"]
        told += [f"{page.number}: outside: {words}" for words in page.outside()]
        told += [f"{page.number}: orphan: {words}" for words in page.orphans()]
        told += [f"{page.number}: cut: {one.words}" for one in page.head_and_foot if not one.within(*edge)]
        for table in page.tables:
            rows = [group for group in table.children if not group.is_header]
            told += [] if rows else [f"{page.number}: a head without rows: {placed(table)[0].words}"]
            with_rows.setdefault(table.element, []).append(head(table) is not None)
    alone = [page.number for page in pages if page.sections == ["care"]]
    told += [f"{number}: a care card alone" for number in alone if sum("care" in page.sections for page in pages) == 1]
    told += ["a table goes on without its head" for heads in with_rows.values() if len(set(heads)) > 1]
    return told


def test_nothing_runs_off_a_page_and_no_heading_is_left_behind(pages: list[Page]) -> None:
    assert faults(pages) == []


def test_one_part_alone_is_laid_out_as_well(one_part: list[Page]) -> None:
    assert faults(one_part) == []
    assert len(one_part) < 12


@pytest.mark.parametrize("name", ["hostile", "two_systems", "two_pieces"])
def test_no_other_piece_has_a_fault(name: str, printer: Printer, request: pytest.FixtureRequest) -> None:
    assert faults(printed(sheet_html(request.getfixturevalue(name), with_appendix=True), printer)) == []


def test_who_works_on_a_day_keeps_to_its_line_where_that_is_long(table: Plan) -> None:
    sheet = sheet_of(table)
    times = "; ".join(f"Maren helps {hour}:00–{hour}:15 at step {hour}" for hour in range(10, 20))
    days = tuple(
        replace(day, who=shortened(f"Maren 08:00–16:05; {times}", length))
        for day, length in zip(sheet.days * 40, range(80, 110), strict=False)
    )
    assert faults(laid_out(render(replace(sheet, whole=False, days=days)))) == []


def test_faults_are_seen() -> None:
    """The rules that are looked for, each broken once."""
    name = "x" * 90
    pages = laid_out(
        "<style>@page { size: A4; margin: 15mm } section { break-before: page }</style>"
        f"<section class=one><p>{name}{name}</p></section>"
        f"<section class=two><table style='table-layout: fixed'><tr><td>{name}<td>y</table><h2>Last</h2></section>"
        "<section class=three><table><thead><tr><th>Head</table></section>"
    )
    assert {fault.split(":")[1] for fault in faults(pages)} == {" outside", " orphan", " a head without rows"}


def test_it_is_long_enough_to_be_a_test(large: Plan, pages: list[Page]) -> None:
    assert len(large.pieces[0].source.piece.parts) == 20
    first, last = large.timetable.steps[0].start, large.timetable.pieces[0].ready
    assert DAYS - 8 <= (last - first).days <= DAYS + 1
    on_pages = [section for page in pages for section in set(page.sections)]
    for section in ("days", "appendix", "sanding", "buying"):
        assert on_pages.count(section) > 1, section


def test_the_worst_dangers_are_on_the_front_all_the_same(large: Plan, pages: list[Page]) -> None:
    dangers = first_page(large).dangers
    assert dangers
    on_front = "".join(page.text for page in pages if page.section == "overview")
    for danger in dangers:
        assert "".join(danger.title.split()) in on_front


def test_every_page_of_the_days_begins_with_its_day(large: Plan, pages: list[Page]) -> None:
    days = {show_long_day(step.start.date()) for step in large.timetable.steps if step.person}
    seen = set()
    for page in pages:  # below a front that takes more than its page days begin on that one
        headings = [heading[0].words.strip() for heading in page.headings if heading[0].words.strip() in days]
        seen |= set(headings)
        if page.section == "days":
            assert page.placed[0].words.strip() == headings[0]
    assert seen == days


def test_every_name_and_step_is_printed(large: Plan, pages: list[Page]) -> None:
    (piece,) = large.pieces
    text = "".join(page.text for page in pages)
    wanted = [piece.name, piece.source.piece.customer or "", large.shop.shop, *piece.source.piece.parts]
    assert [words for words in wanted if "".join(words.split()) not in text] == []
    on_days = "".join(page.text for page in pages if page.section in ("overview", "days"))
    for step in large.timetable.steps:
        if step.person:
            for words in (show_long_day(step.start.date()), show_clock(step.start), step.step, step.item, step.person):
                assert "".join(words.split()).lower() in on_days.lower(), (step.id, words)
