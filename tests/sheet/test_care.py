"""The care card: what it is, from when it may be used how, how it is kept and mended, in words of the catalogue."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from types import SimpleNamespace
from typing import Any, cast

import pytest
import weasyprint

from finplan.catalogue import bundled_catalogue
from finplan.catalogue.system import Ratings
from finplan.moments import show_year_day
from finplan.planning import Plan, PlannedPiece, Wishes, read_source, with_stages
from finplan.sheet import sheet_html
from finplan.sheet.care import CareCard, care_cards
from finplan.sheet.care_text import CareLine, CareText, care_text, days_of, shared_and_own
from finplan.telling import card_contact, hard_words, is_meant, stands_words, usable_words, where_words
from finplan.timetable import PieceTimes, Timetable, TimetableStep
from tests.planned_once import DRAFTING, as_drafts
from tests.plans import make_plan
from tests.sheet.conftest import NOW

TRAY = """\
piece: Tea tray
lengths: mm
timber: beech
system: tung-oil
parts:
  tray: {shape: board, length: 500, width: 300, thickness: 12}
"""
TWENTY = """\
piece: Wall panels of the great hall, with those of the two side rooms
lengths: mm
timber: white-oak
system: hardwax-oil
parts:
""" + "".join(
    f"  panel {number} of the long back wall: {{shape: board, length: 500, width: 300, thickness: 18{system}}}\n"
    for number in range(20)
    for system in (", system: shellac" if number % 2 else "",)
)
CATALOGUE = bundled_catalogue()
SYSTEMS = CATALOGUE.systems
MONDAY = datetime(2027, 3, 1, 15, tzinfo=UTC)
DAY = timedelta(days=1)


def _plan(folder: Path, piece: str) -> Plan:
    file = folder / "piece.yaml"
    file.write_text(piece, encoding="utf-8")
    return make_plan([read_source(file, None)], now=NOW, wishes=Wishes(answers=False))


@pytest.fixture(scope="module")
def tray(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """A tray with an oil whose ingredients are on a list for contact with food."""
    return _plan(tmp_path_factory.mktemp("tray"), TRAY)


@pytest.fixture(scope="module")
def twenty(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """Twenty panels of two finishes, with a timetable made by hand: a card asks for no more of it than the days."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(DRAFTING, as_drafts(_by_hand))
        return _plan(tmp_path_factory.mktemp("twenty"), TWENTY)


def _by_hand(pieces: Sequence[PlannedPiece], *_: object, now: datetime, **__: object) -> Timetable:
    (piece,) = pieces
    name, ready = piece.source.piece.name, now + 7 * DAY
    steps = [
        TimetableStep(
            one.id,
            name,
            one.item,
            one.label,
            "attended",
            one.deed,
            now,
            now + DAY / 48,
            "Maker",
            "shop",
            of_step=one.of_step,
            side=one.side,
        )
        for one in piece.operations
    ]
    cured = {one.item: ready + (6 if one.finish == "paste-wax" else 20) * DAY for one in piece.operations}
    return Timetable(
        "feasible",
        steps=tuple(steps),
        pieces=(PieceTimes(name, now, ready, None, None, None),),
        start=now,
        ready=ready,
        cured=tuple(cured.items()),
    )


def card_of(plan: Plan) -> CareCard:
    (card,) = care_cards(plan)
    return card


def text_of(plan: Plan) -> CareText:
    """What is said of a piece of one finish."""
    (row,) = card_of(plan).rows
    return row.text


# --- from when ---


def test_the_customer_is_told_when_it_is_ready_and_the_day_after_it_has_cured(table: Plan) -> None:
    cured = max(moment for _, moment in table.timetable.cured)
    light, hard = text_of(table).times
    times = table.timetable.pieces[0]
    assert light.of == show_year_day(max(times.ready, times.deliver or times.ready).date())
    assert hard.of == show_year_day((cured + DAY).date())


def test_nothing_wet_hot_or_heavy_until_it_is_hard(table: Plan) -> None:
    light, hard = text_of(table).times
    assert "dry cloth only" in light.words
    assert "nothing wet, hot or heavy" in light.words
    assert "damp cloth" in hard.words
    assert "Hot dishes may be set on it, on a mat" in hard.words


def test_what_is_only_fit_to_carry_is_not_used() -> None:
    assert "not used yet" in usable_words("handle")
    assert "used with care" in usable_words("light-use")


@pytest.mark.parametrize(
    ("deliver", "cured", "ready_day", "hard_day", "why"),
    [
        (None, [MONDAY + 9 * DAY], date(2027, 3, 1), date(2027, 3, 11), "it cures in the course of the tenth"),
        (MONDAY + 3 * DAY, [MONDAY + 2 * DAY], None, date(2027, 3, 4), "hard when it is delivered: one day is told"),
        (MONDAY + 3 * DAY, [MONDAY + 9 * DAY], date(2027, 3, 4), date(2027, 3, 11), "ready before it is delivered"),
        (MONDAY - DAY, [MONDAY + 9 * DAY], date(2027, 3, 1), date(2027, 3, 11), "late"),
        (None, [MONDAY], None, date(2027, 3, 1), "ready means cured"),
        (None, [MONDAY + DAY, MONDAY + 4 * DAY], date(2027, 3, 1), date(2027, 3, 6), "the last item counts"),
        (None, [MONDAY + DAY, None], date(2027, 3, 1), None, "one cures later than is looked at"),
        (None, [], date(2027, 3, 1), None, "nothing is known"),
    ],
)
def test_days(
    deliver: datetime | None,
    cured: list[datetime | None],
    ready_day: date | None,
    hard_day: date | None,
    why: str,
) -> None:
    days = days_of(MONDAY, deliver, cured, "light-use")
    assert (days.ready, days.hard) == (ready_day, hard_day), why


def test_no_day_is_promised_where_one_item_cures_later_than_is_looked_at(table: Plan) -> None:
    unknown = with_stages(table, timetable=replace(table.timetable, cured=table.timetable.cured[:1]))
    assert text_of(unknown).times[-1] == CareLine("Ask the workshop", "from when it has cured and is fully hard.")
    assert not any(mind.title == "In the cold" for mind in card_of(unknown).minds), "no day of curing is named"


@pytest.mark.parametrize("name", SYSTEMS)
def test_what_heat_marks_is_promised_no_hot_dish_and_what_water_marks_no_damp_cloth(name: str) -> None:
    ratings = SYSTEMS[name].ratings
    heat, water = stands_words(ratings)
    assert ("Hot dishes" in hard_words(ratings)) == (ratings.heat > 2)
    assert ("damp cloth" in hard_words(ratings)) == (ratings.water > 2)
    assert ("always" in heat) == (ratings.heat <= 2)
    assert "mat" in heat
    assert ("marks" in water) == (ratings.water <= 2)


@pytest.mark.parametrize("rating", range(1, 6))
def test_every_rating_has_its_words(rating: int) -> None:
    ratings = Ratings(water=rating, heat=rating, wear=1, repair=1)
    assert all(words.endswith(".") for words in (*stands_words(ratings), hard_words(ratings)))


# --- keeping and mending ---


@pytest.mark.parametrize("name", SYSTEMS)
def test_keeping_and_mending_are_those_of_the_catalogue(name: str) -> None:
    system = SYSTEMS[name]
    text = care_text(system, days_of(MONDAY, None, [], "light-use"), CATALOGUE)
    assert text.care == (*where_words(outdoors=system.outdoors), *stands_words(system.ratings), *system.care)
    assert system.repair is not None
    told = {mend.of: mend.words for mend in text.mend}
    assert told["Scratch"] == system.repair.scratch
    assert told["Ring or stain"] == system.repair.ring
    assert told["Worn or dull"] == system.repair.worn
    if system.renewed_with is None:
        assert "To renew it" not in told
    else:
        assert told["To renew it"].startswith(CATALOGUE.finishes[system.renewed_with].title)


def test_a_system_that_says_nothing_of_mending_is_told_nothing() -> None:
    silent = SYSTEMS["soap"].model_copy(update={"repair": None, "renewed_with": None, "care": ()})
    text = care_text(silent, days_of(None, None, [], "light-use"), CATALOGUE)
    assert text.mend == ()
    assert text.care == (*where_words(outdoors=False), *stands_words(silent.ratings))


# --- several finishes ---


def test_finishes_of_one_piece_are_told_one_by_one(two_systems: Plan) -> None:
    card = card_of(two_systems)
    assert [row.title for row in card.rows] == [
        SYSTEMS[name].title for name in ("polyurethane-2k", "wax", "hardwax-oil")
    ]
    assert len({row.about for row in card.rows}) == 3


def test_what_is_the_same_is_said_once(two_systems: Plan) -> None:
    card = card_of(two_systems)
    ready = show_year_day(two_systems.timetable.pieces[0].ready.date())
    assert [when.of for when in card.shared.times] == [ready]
    assert all(when.of != ready for row in card.rows for when in row.text.times)


def test_of_one_finish_alone_nothing_is_set_apart(table: Plan) -> None:
    assert card_of(table).shared.says_nothing


def test_everything_is_said_of_everything() -> None:
    first = CareText((CareLine("Monday", "a"), CareLine("Tuesday", "b")), ("c", "d"), (CareLine("e", "f"),))
    second = CareText((CareLine("Monday", "a"),), ("d", "g"), (CareLine("e", "f"), CareLine("h", "i")))
    shared, own = shared_and_own([first, second])
    assert shared == CareText((CareLine("Monday", "a"),), ("d",), (CareLine("e", "f"),))
    assert own == (CareText((CareLine("Tuesday", "b"),), ("c",)), CareText(care=("g",), mend=(CareLine("h", "i"),)))


# --- what to mind ---


def test_who_renews_it_with_oil_is_told_of_the_cloths(table: Plan, rubbed: Plan) -> None:
    (mind,) = card_of(table).cloths
    caution = next(line for line in table.cautions if line.code == "oily-cloths")
    assert mind.title == caution.title
    assert caution.text[1:] in mind.text
    assert caution.reason in mind.text
    assert card_of(rubbed).cloths == (), "paste wax does not heat itself"


def test_a_caution_is_on_the_card_of_the_piece_that_calls_for_it(two_pieces: Plan) -> None:
    table, tray = care_cards(two_pieces)
    line = next(line for line in two_pieces.cautions if line.when == "delivery")
    assert line.title in [mind.title for mind in table.minds]
    lines = tuple(replace(one, because=("Soap",)) for one in two_pieces.cautions)
    other = with_stages(two_pieces, precautions=replace(two_pieces.precautions, cautions=lines))
    assert not any(mind.title == line.title for card in care_cards(other) for mind in card.minds)
    assert line.title in [mind.title for mind in tray.minds]


def test_food_is_spoken_of_where_something_is_published(tray: Plan, table: Plan) -> None:
    (line,) = tray.safety.contact
    assert [mind.text for mind in card_of(tray).minds if mind.title == "Food"] == [line.text]
    assert not any(mind.title == "Food" for mind in card_of(table).minds)


def test_the_card_is_signed_by_the_shop(two_pieces: Plan, table: Plan) -> None:
    for card in care_cards(two_pieces):
        assert card.notes == ("Questions are answered at the workshop on weekdays.",)
    assert '<strong class="shop maker">Copper Beech joinery</strong>' in sheet_html(two_pieces)
    assert 'class="foot"' not in sheet_html(table), "the default shop is nobody's"


# --- on paper ---


def care_slips(plan: Plan) -> list[list[str]]:
    """Return the words of the cards on each page of a plan's cards, laid out without the rest of the sheet."""
    html = sheet_html(plan)
    head = html[: html.index("<body ")]
    cards = re.findall(r'<section class="care.*?</section>', html, re.DOTALL)
    page: Any = weasyprint.HTML(string=f"{head}<body>{''.join(cards)}</body></html>").render()
    return [
        [" ".join(" ".join(_texts(box)).split()) for box in _cards(one._page_box.children[0])] for one in page.pages
    ]


def _texts(box: Any) -> Iterator[str]:
    if type(box).__name__ == "TextBox":
        yield box.text
    for child in getattr(box, "children", ()):
        yield from _texts(child)


def _cards(box: Any) -> Iterator[Any]:
    if box.element_tag == "section":
        yield box
        return
    for child in getattr(box, "children", ()):
        yield from _cards(child)


@pytest.mark.parametrize("name", ["table", "hostile", "rubbed", "tray"])
def test_one_finish_is_one_page(name: str, request: pytest.FixtureRequest) -> None:
    ((_,),) = care_slips(request.getfixturevalue(name))


def test_twenty_items_of_two_finishes_are_one_page(twenty: Plan) -> None:
    ((page,),) = care_slips(twenty)
    assert "panel 19 of the long back wall" in page


def test_a_customer_sees_no_piece_and_no_date_of_another(two_pieces: Plan) -> None:
    """Each card is a slip of its own, which is cut off whole: it never goes on on another page."""
    table, tray = (slip for page in care_slips(two_pieces) for slip in page)
    assert ("Reading table" in table, "Tray with a rim" in tray) == (True, True)
    assert "Reading table" not in tray
    assert "Tray with a rim" not in table
    assert "elivery" not in table + tray


@pytest.mark.parametrize(
    ("name", "kind", "told"),
    [
        ("Shelf for atlases", "child", False),
        ("Cot for the Brindlewoods", "child", True),
        ("Two high chairs", "child", True),
        ("Toys", "child", True),
        ("Cottage shelf", "child", False),
        ("Tea tray", "food", True),
        ("Cutting boards", "food", True),
        ("Hall mirror", "food", False),
    ],
)
def test_a_card_speaks_of_food_and_children_where_the_piece_is_meant_for_them(name: str, kind: str, told: bool) -> None:
    notes = [note for note in CATALOGUE.contact.values() if note.contact == kind]
    assert notes
    assert {is_meant(note, name) for note in notes} == {told}


def test_of_a_piece_that_is_not_meant_for_it_the_workshop_is_asked(tray: Plan) -> None:
    (line,) = tray.safety.contact
    (piece,) = tray.pieces
    assert list(card_contact(piece, tray)) == [("Food", line.text)]
    none = {name: note.model_copy(update={"pieces": ("cot",)}) for name, note in CATALOGUE.contact.items()}
    elsewhere = SimpleNamespace(safety=tray.safety, catalogue=SimpleNamespace(contact=none))
    ((title, words),) = card_contact(piece, cast("Plan", elsewhere))
    assert (title, line.text in words, "ask the workshop" in words) == ("Food", False, True)


@pytest.mark.parametrize(("system", "name"), [("casein-paint", "Cot"), ("wax", "Cradle"), ("alkyd-enamel", "Toys")])
def test_what_is_meant_for_children_says_so_whatever_is_on_it(system: str, name: str, tmp_path: Path) -> None:
    """Also where paint lies under wax, or there is no paint; of a shelf that is painted so the workshop is asked."""
    notes = [note.text for note in CATALOGUE.contact.values() if note.contact == "child"]
    assert [words for title, words in _contact(name, system, tmp_path) if title == "Children"] == notes
    of_shelf = [words for title, words in _contact("Shelf", system, tmp_path) if title == "Children"]
    assert len(of_shelf) == (0 if system == "wax" else 1)
    assert not set(of_shelf) & set(notes)


def _contact(name: str, system: str, folder: Path) -> list[tuple[str, str]]:
    """What the card of a board says of food and children."""
    file = folder / "piece.yaml"
    board = "{shape: board, length: 400, width: 200, thickness: 20}"
    text = f"piece: {name}\nlengths: mm\ntimber: beech\nsystem: {system}\nparts: {{board: {board}}}\n"
    file.write_text(text, encoding="utf-8")
    plan = make_plan([read_source(file, None)], now=NOW)
    return list(card_contact(plan.pieces[0], plan))


def test_every_finish_that_is_not_for_outdoors_says_so() -> None:
    """Once on a card; a shop's own system may be for outdoors, and then nothing is said."""
    days = days_of(MONDAY, MONDAY, [MONDAY + DAY], "light-use")
    (words,) = where_words(outdoors=False)
    assert "indoors" in words
    for system in SYSTEMS.values():
        assert care_text(system, days, CATALOGUE).care.count(words) == 1
        outdoors = system.model_copy(update={"outdoors": True})
        assert care_text(outdoors, days, CATALOGUE).care == care_text(system, days, CATALOGUE).care[1:]
