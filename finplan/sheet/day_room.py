"""Which days go on over the page, and where a care card fits behind them: how much room each of them takes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain
from typing import Literal

from finplan.sheet.care import CareCard
from finplan.sheet.care_text import CareText
from finplan.sheet.days import WorkingDay
from finplan.sheet.room import PAGE_MM, WIDTH_MM, Letters, PageSize
from finplan.sheet.sessions import WorkSession
from finplan.sheet.step_row import StepRow

DaysSet = Literal["", "close"]
"""The classes of the days, the widest setting first."""
_CARE = Letters(8.5, 1.17)
_SLIP_MM = 8.6
_SPARE_MM = 8.0
_CLOSE = 0.79
"""Of its height the safety takes set closer; measured on five."""
_NEARLY, _TOO_MUCH = 0.96, 1.1
"""From which share of a page on that is done, and from which on it would not help."""
_LONG, _LITTLE = 0.5, 0.25
"""Of a page: only a day that is longer goes on over it, and only where more of one would stay empty."""
_TRIED_MM = 4.5
"""By so much more than a page is tried: what is left free below a day needs no room at its end."""
_MUCH = 0.25
"""Of the pages of the days: where so many are saved, days need not be kept whole."""
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
    time_mm: float
    """When it begins and ends."""


SETTINGS = (
    DaySizes("", Letters(9.5, 1.2), Letters(9, 1.2), Letters(12, 1.15), Letters(11, 1.15), 30.0, 1.2, 14.0, 6.8, 8.6),
    DaySizes(
        "close", Letters(9, 1.15), Letters(8.7, 1.15), Letters(10.5, 1.1), Letters(10.5, 1.1), 25.6, 0.9, 11.4, 5.6, 7.6
    ),
)

CarePlace = Literal["days", "safety", "between"]
"""Below the last day, below the safety behind that, or between them, where the safety fills its page."""


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


def days_placed(days: Sequence[WorkingDay], begun_mm: float, paper: PageSize) -> DaysPlaced:
    """Return where days most likely stand, the first one below what fills *begun_mm* of its page.

    Days are kept whole and set wide. They are set closer where they take a page less so, and where much less is taken
    by long ones that begin where they stand, these go on over the page.
    """
    whole, on = (
        min((_placed(days, begun_mm, paper, sizes, whole=whole) for sizes in SETTINGS), key=lambda placed: placed.pages)
        for whole in (True, False)
    )
    return on if on.pages <= (1 - _MUCH) * whole.pages else whole


def _placed(
    days: Sequence[WorkingDay], begun_mm: float, paper: PageSize, sizes: DaySizes, *, whole: bool
) -> DaysPlaced:
    page, filled, pages, going_on = PAGE_MM[paper], begun_mm, 1, set[str]()
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
            height, pages = height - page + sizes.head_mm, pages + 1
        filled = height
    return DaysPlaced(sizes.name, frozenset(going_on), pages, filled)


@dataclass(frozen=True, slots=True)
class SafetyPlaced:
    """Where the safety most likely stands, and the card of one piece."""

    card: CarePlace
    close: bool
    """Whether it is set closer: it would take a little more than a page, or leave too little of one for the card."""
    flows: bool
    """Whether it begins where it stands and goes on."""


def safety_flowing(filled_mm: float, safety: float, paper: PageSize) -> SafetyPlaced:
    """Return how the safety of several pieces stands, whose cards come last: set closer where it ends a page sooner."""
    ends = [math.ceil((filled_mm + share * safety + _SPARE_MM) / PAGE_MM[paper]) for share in (1.0, _CLOSE)]
    return SafetyPlaced("between", close=ends[1] < ends[0], flows=True)


def safety_placed(card: CareCard, filled_mm: float, safety: float, paper: PageSize) -> SafetyPlaced:
    """Return where the safety of one piece most likely stands, and its card.

    Parameters
    ----------
    card
        What goes with the piece
    filled_mm
        How much the days before it fill of their page
    safety
        How high the safety is as it is set usually. [mm]
    paper
        Of which size the pages are
    """
    page, card_mm = PAGE_MM[paper], care_mm(card, paper)
    nearly = _NEARLY * page < safety < _TOO_MUCH * page
    if filled_mm + card_mm + _SPARE_MM <= page:
        return SafetyPlaced("days", nearly, safety >= _TOO_MUCH * page)
    if safety + card_mm + _SPARE_MM <= page:
        return SafetyPlaced("safety", close=False, flows=False)
    if _CLOSE * safety + card_mm <= page:
        return SafetyPlaced("safety", close=True, flows=False)
    if (filled_mm + safety) % page + card_mm + _SPARE_MM <= page:
        return SafetyPlaced("safety", close=False, flows=True)
    return safety_flowing(filled_mm + card_mm, safety, paper)


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
    told += [
        f"[_] {item.number} {item.time} {item.item}: {item.key} {' '.join(item.lines)} {'_' * 24 if row.used else ''}"
        for item in row.items
    ]
    label = f"{row.item}: {row.label} {row.key if row.used else ''}"
    filled = _USED_MM if row.used and not row.items else _DONE_MM
    return (
        max(sizes.what.height(label, width - filled) + text.heights(told, width) + 0.2, sizes.time_mm) + sizes.cell_mm
    )


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
    told = (f"From when. {times}", f"Mending it. {mend}" if mend else "", f"Keeping it: {' '.join(text.care)}")
    return _CARE.heights(told, width, 0.5)
