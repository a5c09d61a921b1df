"""Which days go on over the page, and where a care card fits behind them: how much room each of them takes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import chain
from typing import Literal

from finplan.sheet.care import CareCard
from finplan.sheet.care_text import CareText
from finplan.sheet.days import WorkingDay
from finplan.sheet.room import PAGE_MM, WIDTH_MM, Letters, PageSize
from finplan.sheet.sessions import WorkSession
from finplan.sheet.step_row import ItemLine, StepRow

DaysSet = Literal["", "close"]
"""The classes of the days, the widest setting first."""
_CARE = Letters(8.5, 1.12)
_SLIP_MM = 8.6
_LONG, _LITTLE = 0.5, 0.25
"""Of a page: only a day that is longer goes on over it, and only where more of one would stay empty."""
_TRIED_MM = 4.5
"""By so much more than a page is tried: what is left free below a day needs no room at its end."""
_BREAK_MM = 6.0
"""So much is left free where a day goes on over the page: a row stands on the next one as a whole."""
_OFF = (0.98, 1.0, 1.03, 1.06)
"""How many times as high as it is reckoned all may be: what just fits may not."""
_PARTED = 0.1
"""As how much of a page a day counts that goes on over it: of two settings the one that parts fewer is better."""
_MUCH = 0.25
"""Of the pages of the days: where so many are saved, days need not be kept whole."""
_NUMBERS, _BESIDE = Letters(9, 1.1), 2
"""Numbers of several steps, and how many letters of one stand beside its box."""
_DONE_MM, _USED_MM = 26.0, 54.0
"""How wide what is filled in is, beside the label and the amount."""


@dataclass(frozen=True, slots=True)
class DaySizes:
    """How the days are set, as their style sheet has it."""

    name: DaysSet
    text: Letters
    small: Letters
    what: Letters
    short: Letters
    beside_mm: float
    """Boxes and times, beside which the words of a row stand."""
    cell_mm: float
    """Around the words of a row."""
    head_mm: float
    """Of a day, with what is left free below it."""
    person_mm: float
    tick_mm: float
    """How wide the column of the box and the number is."""
    box_mm: float
    time_mm: float
    """When it begins and ends."""


SETTINGS = (
    DaySizes(
        "",
        Letters(9.5, 1.2),
        Letters(9, 1.2),
        Letters(12, 1.15),
        Letters(11, 1.15),
        30.0,
        1.2,
        14.0,
        6.8,
        16.0,
        5.6,
        8.6,
    ),
    DaySizes(
        "close",
        Letters(9, 1.15),
        Letters(8.7, 1.15),
        Letters(10.5, 1.1),
        Letters(10.5, 1.1),
        25.6,
        0.9,
        11.4,
        5.6,
        13.6,
        4.6,
        7.6,
    ),
)


@dataclass(frozen=True, slots=True)
class DaysPlaced:
    """Where the days most likely stand."""

    setting: DaysSet
    """How close they are set: as wide as they may be for their pages to be as few."""
    going_on: frozenset[str]
    """The anchors of those that begin where they stand and go on over the page; others are kept whole."""
    pages: int
    """How many pages they begin, with the one on which the first one stands."""
    filled_mm: float
    """How much of its page the last one fills."""
    may_fill_mm: tuple[float, ...] = ()
    """The same if all is a little less, or more, high than it is reckoned."""


def days_placed(
    days: Sequence[WorkingDay],
    begun_mm: float,
    paper: PageSize,
    pages: Callable[[DaysPlaced], float] = lambda placed: placed.pages,
) -> DaysPlaced:
    """Return where days most likely stand, the first one below what fills *begun_mm* of its page.

    Days are kept whole and set wide. They are set closer where it takes a page less so. Long ones begin where they
    stand and go on over the page only where the days take much less so than whole ones do in any setting.

    Parameters
    ----------
    days, begun_mm, paper
        The days, below what, and on what
    pages
        How many pages are filled with what comes behind the days; by default with the days alone
    """

    def if_off(sizes: DaySizes, *, whole: bool) -> list[DaysPlaced]:
        return [_placed(days, begun_mm, PAGE_MM[paper] / off, paper, sizes, whole=whole) for off in _OFF]

    def best(*, whole: bool) -> DaysPlaced:
        ways = {sizes.name: if_off(sizes, whole=whole) for sizes in SETTINGS}
        sizes = min(
            SETTINGS, key=lambda sizes: sum(pages(way) + _PARTED * len(way.going_on) for way in ways[sizes.name])
        )
        placed = _placed(days, begun_mm, PAGE_MM[paper], paper, sizes, whole=whole)
        return replace(placed, may_fill_mm=tuple(way.filled_mm for way in ways[sizes.name]))

    whole, on = best(whole=True), best(whole=False)
    least = min(_placed(days, begun_mm, PAGE_MM[paper], paper, sizes, whole=True).pages for sizes in SETTINGS)
    return on if on.pages <= (1 - _MUCH) * least else whole


def _placed(
    days: Sequence[WorkingDay], begun_mm: float, page: float, paper: PageSize, sizes: DaySizes, *, whole: bool
) -> DaysPlaced:
    filled, pages, going_on = begun_mm, 1, set[str]()
    for day in days:
        height = day_mm(day, paper, sizes)
        if filled + height <= page + _TRIED_MM:
            filled += height
            continue
        if filled and (whole or height <= _LONG * page or page - filled <= _LITTLE * page):
            filled, pages = 0.0, pages + 1
        if filled + height > page:
            going_on.add(day.anchor)
        height += filled
        while height > page:
            height, pages = height - page + _BREAK_MM + sizes.head_mm, pages + 1
        filled = height
    return DaysPlaced(sizes.name, frozenset(going_on), pages, filled)


def day_mm(day: WorkingDay, paper: PageSize, sizes: DaySizes) -> float:
    """Return about how high a day is in a setting. [mm]"""
    width = WIDTH_MM[paper]
    height = sizes.head_mm + (sizes.person_mm * len(day.people) if len(day.people) > 1 else 0.0)
    for session in chain.from_iterable(person.sessions for person in day.people):
        height += _before(session, width, sizes)
        height += sum(_row(row, session, width - sizes.beside_mm, sizes) for row in session.rows)
    seen_to = " ".join(("Before you lock up:", *(f"[_] {line}" for line in day.evening), "Signed", "_" * 12))
    drying = f"Wet when you leave, do not touch, keep dust away: {'; '.join(day.drying)}. " if day.drying else ""
    return (
        height + sizes.small.heights((day.with_another or seen_to, drying + day.next_work), width - 5.0) + sizes.cell_mm
    )


def _before(session: WorkSession, width: float, sizes: DaySizes) -> float:
    if not session.told or session.in_its_row:
        return 0.0
    air = (
        f"[_] {coat_air.asked} {coat_air.warmth}: {'_' * 7}, {coat_air.damp or 'humidity'}: {'_' * 7}"
        for coat_air in session.air
    )
    cautions = (line for line in session.cautions if line not in session.said_before)
    told = (session.room, f"{session.title}:", _ticks(session), *air, *cautions)
    return sizes.small.height(" ".join((*told, *session.lines, *session.way)), width) + sizes.cell_mm


def _ticks(session: WorkSession) -> str:
    again = f"All again, as printed before step {session.as_before}."
    return " ".join(f"[__] {line}" for line in ((again,) if session.as_before else session.ticks))


def _warnings(row: StepRow) -> tuple[str, ...]:
    return (
        (f"Mind: as at step {row.warned_at}.",)
        if row.warned_at
        else tuple(f"Mind: {warning}" for warning in row.warnings)
    )


def _row(row: StepRow, session: WorkSession, width: float, sizes: DaySizes) -> float:
    text = sizes.text
    if row.short:
        inline = " ".join((row.label, *(f"[_] {line}" for line in row.ticks)))
        return max(sizes.short.line, text.height(inline, width)) + text.heights(row.cautions, width) + sizes.cell_mm
    before = (session.room, _ticks(session)) if session.in_its_row else ()
    minded, work = (
        " ".join((*row.cautions, row.wear)),
        " ".join(
            (*before, "" if row.latest_beside else row.latest, *row.lines, row.below, row.window, *_warnings(row))
        ),
    )
    told = [minded.strip(), work, *(f"[_] {line}" for line in row.ticks)]
    told += [_of_item(item, row) for item in row.items if item.lines]
    told.append(" ____ ".join(_of_item(item, row) for item in row.items if not item.lines))
    label = f"{row.item}: {row.label} {row.key if row.used else ''}"
    filled = _USED_MM if row.used and not row.items else _DONE_MM
    return (
        max(
            sizes.what.height(label, width - filled) + text.heights(told, width) + 0.2, sizes.time_mm, _tick(row, sizes)
        )
        + sizes.cell_mm
    )


def _tick(row: StepRow, sizes: DaySizes) -> float:
    """Return how high the box is with its number, which of several steps stands below it."""
    several = len(row.number) > _BESIDE and not row.items
    return sizes.box_mm + (_NUMBERS.height(row.number, sizes.tick_mm - 1.5) if several else 0.0)


def _of_item(item: ItemLine, row: StepRow) -> str:
    blank = "_" * 24 if row.used else ""
    return f"[_] {item.number} {item.time} {item.item}: {item.key} {' '.join(item.lines)} {blank}"


def care_mm(card: CareCard, paper: PageSize) -> float:
    """Return about how high a care card is. [mm]"""
    width = WIDTH_MM[paper]
    height = _SLIP_MM + Letters(14, 1.1).height(f"{card.piece} {card.customer}", width)
    height += 5.5 + _care_text(card.shared, width) if not card.shared.says_nothing else 0.0
    for row in card.rows:
        about = f"{row.items}. {row.about}" if len(card.rows) > 1 else row.about
        height += 5.8 + _CARE.height(about, width) + 0.5 + _care_text(row.text, width)
    height += sum(_CARE.height(f"{cloth.title}. {cloth.text}", width - 5.0) + 3.0 for cloth in card.cloths)
    height += _CARE.height(" ".join(f"{mind.title}. {mind.text}" for mind in card.minds), width)
    return height + 2.5 + _CARE.height(" ".join(card.notes), width)


def _care_text(text: CareText, width: float) -> float:
    times, mend = (" ".join(f"{line.of}: {line.words}" for line in lines) for lines in (text.times, text.mend))
    told = (("From when.", times), ("Mending it.", mend), ("Keeping it:", " ".join(text.care)))
    return _CARE.heights((f"{title} {words}" for title, words in told if words), width, 0.5)
