"""Where a care card fits: how much room it takes, and the days before it, none of which is split over pages."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import chain
from typing import Literal

from finplan.sheet.care import CareCard
from finplan.sheet.care_text import CareText
from finplan.sheet.days import WorkingDay
from finplan.sheet.room import PAGE_MM, WIDTH_MM, Letters, PageSize
from finplan.sheet.sessions import WorkSession
from finplan.sheet.step_row import StepRow

_TEXT, _SMALL, _WHAT, _SHORT, _CARE = (
    Letters(9.5, 1.2), Letters(9, 1.2), Letters(12, 1.15), Letters(11, 1.15), Letters(8.5, 1.17),
)  # fmt: skip
_BESIDE_MM = 62.0
"""Boxes, times and blanks, beside which the words of a row stand."""
_CELL_MM = 1.2
"""Around the words of a row."""
_HEAD_MM, _PERSON_MM, _SLIP_MM = 12.0, 6.8, 8.6
_SPARE_MM = 8.0
_FILL_MM, _KEY_MM, _TIME_MM = 4.9, 5.3, 8.6
_BLANKS_MM = 2 * 4.0 + 0.8


CarePlace = Literal["days", "safety", "between"]
"""Below the last day, below the safety behind that, or between them, where the safety fills its page."""


def care_place(card: CareCard, days: Sequence[WorkingDay], safety: float, paper: PageSize) -> CarePlace:
    """Return where a card most likely fits, where days begin on a page of their own; *safety* is its height. [mm]"""
    page, filled, card_mm = PAGE_MM[paper], 0.0, care_mm(card, paper)
    for day in days:
        height = day_mm(day, paper)
        filled = height % page if height > page else height if filled + height > page else filled + height
    if filled + card_mm <= page:
        return "days"
    return "safety" if (filled + safety) % page + card_mm + _SPARE_MM <= page else "between"


def day_mm(day: WorkingDay, paper: PageSize) -> float:
    """Return about how high a day is. [mm]"""
    width = WIDTH_MM[paper]
    height = _HEAD_MM + (_PERSON_MM * len(day.people) if len(day.people) > 1 else 0.0)
    for session in chain.from_iterable(one.sessions for one in day.people):
        height += _before(session, width)
        height += sum(_row(row, session, width - _BESIDE_MM) for row in session.rows)
    evening = " ".join(("Before you lock up:", *(f"[_] {line}" for line in day.evening), "Signed", "_" * 12))
    drying = f"Wet when you leave, do not touch, keep dust away: {'; '.join(day.drying)}. " if day.drying else ""
    return height + _SMALL.heights((evening, drying + day.next_work), width - 5.0) + _CELL_MM


def _before(session: WorkSession, width: float) -> float:
    if not session.told or session.in_its_row:
        return 0.0
    ticks = (f"All of it again, as before step {session.as_before}.",) if session.as_before else session.ticks
    air = (f"[_] {line} {'_' * 7} °C {'_' * 7} %" for line in session.air)
    cautions = (line for line in session.cautions if line not in session.said_before)
    told = (session.room, f"{session.title}:", *(f"[__] {line}" for line in ticks), *air, *cautions)
    return _SMALL.height(" ".join((*told, *session.lines, *session.way)), width) + _CELL_MM


def _row(row: StepRow, session: WorkSession, width: float) -> float:
    if row.short:
        inline = " ".join((row.label, *(f"[_] {line}" for line in row.ticks)))
        return max(_SHORT.line, _TEXT.height(inline, width + 26.0)) + _TEXT.heights(row.cautions, width) + _CELL_MM
    before = (session.room, *(f"[_] {line}" for line in session.ticks)) if session.in_its_row else ()
    minded, work = " ".join((*row.cautions, row.wear)), " ".join((*before, *row.lines, row.below, row.window))
    told = [minded.strip(), work, *row.warnings, *(f"[_] {line}" for line in row.ticks)]
    told += [
        f"[_] {item.number} {item.time} {item.item}: {item.key} {' '.join(item.lines)} {'_' * 24 if row.used else ''}"
        for item in row.items
    ]
    label = f"{row.item}: {row.label}{' ' * 4 + row.latest[:-6] if row.latest else ''}"
    blanks = _BLANKS_MM if row.used and not row.items else _FILL_MM
    beside = max(_TIME_MM, blanks + (_KEY_MM if row.key else 0.0))
    return max(_WHAT.height(label, width) + 0.3 + _TEXT.heights(told, width), beside) + _CELL_MM


def care_mm(card: CareCard, paper: PageSize) -> float:
    """Return about how high a care card is. [mm]"""
    width = WIDTH_MM[paper]
    height = _SLIP_MM + Letters(14, 1.1).height(f"{card.piece} {card.customer}", width)
    height += 5.5 + _care_text(card.shared, width) if not card.shared.says_nothing else 0.0
    for row in card.rows:
        about = f"{row.items}. {row.about}" if len(card.rows) > 1 else row.about
        height += 5.8 + _CARE.height(about, width) + 0.5 + _care_text(row.text, width)
    height += sum(_CARE.height(f"{one.title}. {one.text}", width - 5.0) + 3.0 for one in card.cloths)
    height += _CARE.height(" ".join(f"{one.title}. {one.text}" for one in card.minds), width)
    return height + 2.5 + _CARE.height(" ".join(card.notes), width)


def _care_text(text: CareText, width: float) -> float:
    times, mend = (" ".join(f"{one.of}: {one.words}" for one in lines) for lines in (text.times, text.mend))
    told = (f"From when. {times}", f"Mending it. {mend}" if mend else "", f"Keeping it: {' '.join(text.care)}")
    return _CARE.heights(told, width, 0.5)
