"""Twenty parts with long names in many alphabets, over forty days: nothing is cut, lost or runs off a page."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from typing import Any

import pytest
import weasyprint
from pypdf import PdfReader

from finplan.plan import Plan, make_plan
from finplan.sheet import sheet_html
from finplan.sheet.words import show_long_day
from finplan.source import read_source
from finplan.timetable import PieceTimes, Timetable, TimetableStep
from finplan.timing import Treated
from tests.sheet.conftest import NOW

UNBREAKABLE = "Donaudampfschifffahrtselektrizitätenhauptbetriebswerkbauunte"  # invented names, as all here
PIECE = f"""\
piece: "Ausziehbare Festtafel für den Łódźer Gesangverein „Čapek & 東京“ mit zwanzig Teilen und einem sehr langen Namen"
customer: "{UNBREAKABLE}, z. Hd. Ελένη Παπαδοπούλου, <b>Nguyễn</b>, file:///etc/passwd, http://example.invalid/x.png"
lengths: mm
timber: white-oak
system: oil-varnish-blend
deliver: 2027-04-30 15:00
assemblies:
  "Untergestell mit Zargen und gedrechselten Beinen": {{parts: [Bein (Łódź), Zarge lang]}}
parts:
  "Tischplatte, mittlerer Teil, mit umlaufender Hohlkehle":
    {{shape: rectangle, length: 1400, width: 950, thickness: 30, edge: {{top: ogee 8, bottom: chamfer 3}}}}
  Bein (Łódź): {{shape: square-leg, side: 80, length: 690, count: 4}}
  Zarge lang: {{shape: board, length: 1180, width: 110, thickness: 24, count: 2}}
  "東京 引き出し": {{shape: drawer, width: 420, height: 110, depth: 380, thickness: 12, bottom: 6, count: 2}}
  "{UNBREAKABLE}": {{shape: rod, diameter: 30, length: 900}}
""" + "".join(
    f'  "Einlegeboden Nummer {number} für die Anrichte aus Čapeks Werkstatt": '
    f"{{shape: board, length: {600 + 10 * number}, width: 280, thickness: 20}}\n"
    for number in range(1, 16)
)
SHOP = """\
shop: "Möbelwerkstatt „Zum schnellen Hobel“ Żółkiewski & 東京木工, Łódź"
paper: {paper}
units: {units}
time-zone: Europe/Warsaw
people: [{{name: Brunhilde-Aleksandra Wawrzyniak-Hohenstein, hours: {{mon-fri: 8:00-16:00}}}}]
rooms:
  "großer Maschinensaal im Hinterhof": {{for: [sanding, assembly]}}
  lak: {{for: [coating, drying], volume: 60 m3, air-changes: 2}}
"""
OPERATIONS_A_DAY = 2


def one_after_the_other(pieces: Sequence[Treated], *_: object, now: datetime, **__: object) -> Timetable:
    """A timetable made by hand, two operations a day: the real one of so large a piece takes long to find."""
    (piece,) = pieces
    name, zone = piece.source.piece.name, piece.source.shop.time_zone
    steps: list[TimetableStep] = []
    for number, operation in enumerate(piece.operations):
        day, turn = divmod(number, OPERATIONS_A_DAY)
        start = now.astimezone(zone) + timedelta(days=day, hours=2 * turn)
        end = start + timedelta(minutes=30)
        dry = None if operation.finish is None else end + timedelta(hours=40)
        row = TimetableStep(
            operation.id, name, operation.item, operation.label, "attended", operation.deed, start, end,
            "Brunhilde-Aleksandra Wawrzyniak-Hohenstein", "großer Maschinensaal im Hinterhof", dry,
        )  # fmt: skip
        steps.append(row)
        if dry is not None:
            steps.append(TimetableStep(
                f"{row.id}/dry", name, row.item, f"{row.step} dries", "drying", row.deed, end, dry, None, "lak"
            ))  # fmt: skip
    steps.sort(key=lambda step: step.start)
    ready = max(step.end for step in steps)
    times = PieceTimes(name, steps[0].start, ready, ready + timedelta(days=1), 24.0, 8.0)
    return Timetable("feasible", steps=tuple(steps), pieces=(times,), start=steps[0].start, ready=ready)


@pytest.fixture(scope="module", params=[("a4", "metric"), ("letter", "us")], ids=["a4", "letter"])
def large(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """The large piece, on the paper and in the units of either side of the ocean."""
    paper, units = request.param
    folder = tmp_path_factory.mktemp("large")
    (folder / "piece.yaml").write_text(PIECE, encoding="utf-8")
    (folder / "shop.yaml").write_text(SHOP.format(paper=paper, units=units), encoding="utf-8")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("finplan.plan.timetable_of", one_after_the_other)
        return make_plan([read_source(folder / "piece.yaml", folder / "shop.yaml")], now=NOW)


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """One part, and nothing else."""
    file = tmp_path_factory.mktemp("small") / "piece.yaml"
    file.write_text(
        "piece: Board\nlengths: mm\ntimber: beech\nsystem: soap\n"
        "parts: {board: {shape: board, length: 300, width: 200, thickness: 20}}\n",
        encoding="utf-8",
    )
    return make_plan([read_source(file, None)], now=NOW)


def boxes(box: Any) -> Iterator[Any]:
    yield box
    for child in getattr(box, "children", ()):
        yield from boxes(child)


def is_heading(box: Any) -> bool:
    return box.element_tag in ("h1", "h2", "h3") and type(box).__name__ == "BlockBox"


def laid_out(plan: Plan) -> Any:
    fetcher = weasyprint.urls.URLFetcher(allowed_protocols={"data"})
    return weasyprint.HTML(string=sheet_html(plan), url_fetcher=fetcher).render()


def pages_of(document: Any) -> list[Any]:
    return [page._page_box for page in document.pages]


@pytest.fixture(scope="module")
def document(large: Plan) -> Any:
    """The sheet of the large piece as it was laid out."""
    return laid_out(large)


@pytest.fixture(scope="module")
def pages(document: Any) -> list[Any]:
    """The pages of it."""
    return pages_of(document)


def checked(found: list[Any]) -> None:
    for number, page in enumerate(found, 1):
        words = [box for box in boxes(page) if type(box).__name__ == "TextBox" and box.text.strip()]
        body = [box for box in words if not _in_margin(box, page)]
        assert body, f"page {number} is empty"
        for box in words:
            assert box.position_x >= -0.5, (number, box.text)
            assert box.position_x + box.width <= page.margin_width() - 10 * 96 / 25.4, (number, box.text)
            assert box.position_y + box.height <= page.margin_height(), (number, box.text)
        headings = [box for box in boxes(page) if is_heading(box) and box.height]
        lowest = max(box.position_y + box.height for box in body)
        for heading in headings:
            assert heading.position_y + heading.height < lowest - 1, (number, "a heading is the last thing on a page")


def _in_margin(box: Any, page: Any) -> bool:
    top, bottom = page.margin_top, page.margin_height() - page.margin_bottom
    return bool(box.position_y + box.height <= top or box.position_y >= bottom)


def test_nothing_runs_off_a_page_and_no_heading_is_left_behind(pages: list[Any]) -> None:
    assert len(pages) > 20
    checked(pages)


def test_the_worst_dangers_are_on_the_first_page_all_the_same(pages: list[Any]) -> None:
    words = "".join(box.text for box in boxes(pages[0]) if type(box).__name__ == "TextBox")
    for said in ("The worst dangers of this job", "Oily cloths.", "What is critical"):
        assert said in words


def test_one_part_alone_does_not_either(small: Plan) -> None:
    checked(pages_of(laid_out(small)))


def test_it_spans_forty_days(large: Plan) -> None:
    first, last = large.timetable.steps[0].start, large.timetable.pieces[0].ready
    assert 38 <= (last - first).days <= 60


def test_a_day_that_goes_on_has_its_head_again(large: Plan, pages: list[Any]) -> None:
    days = {show_long_day(step.start.date()) for step in large.timetable.steps if step.kind == "attended"}
    seen = set()
    for page in pages:
        texts = [box.text for box in boxes(page) if type(box).__name__ == "TextBox"]
        if "Day by day" not in texts:
            continue
        first_heading = next(box for box in boxes(page) if is_heading(box) and box.height and box.element_tag == "h3")
        words = "".join(box.text for box in boxes(first_heading) if type(box).__name__ == "TextBox")
        day = next((day for day in days if words.startswith(day)), None)
        assert day is not None, "the first heading of a page of days is a day"
        seen |= {day for day in days if any(text.startswith(day) for text in texts)}
    assert seen == days


def test_every_name_and_step_is_printed(large: Plan, document: Any) -> None:
    reader = PdfReader(io.BytesIO(document.write_pdf(full_fonts=True)))
    text = re.sub(r"\s", "", "".join(page.extract_text() for page in reader.pages))
    (piece,) = large.pieces
    wanted = [piece.name, piece.source.piece.customer or "", large.shop.shop, *piece.source.piece.parts]
    wanted += [f"{step.item}: {step.step[:1].upper()}{step.step[1:]}" for step in large.timetable.steps if step.person]
    missing = [words for words in wanted if re.sub(r"\s", "", words) not in text]
    # A row that several items share names them under one head.
    shared = [words for words in missing if re.sub(r"\s", "", words.rpartition(": ")[0]) in text]
    assert [words for words in missing if words not in shared] == []
    sections = [entry["/Title"] for entry in reader.outline[1] if not isinstance(entry, list)]
    parts = ["Buy and mix", "Sanding cards", "Day by day", "Cautions", "Care card", "Appendix"]
    assert [title for title in sections if title in parts] == parts, "they can be jumped to"
