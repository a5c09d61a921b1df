"""How close the front is set: as wide as it may be and all of it still on one page."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from finplan.sheet.room import MM_OF_PT, PAGE_MM, WIDTH_MM, Letters, PageSize
from finplan.typesetting import width_em

if TYPE_CHECKING:
    from finplan.sheet.first_page import FirstPage

Closeness = Literal["", "dense", "dense close", "dense close closest", "dense over"]
"""The classes of the front, the widest setting first; the last one for what fits no page."""
_SPARE_MM = 3.0
_ITEM, _LONG_ITEM = Letters(9.5, 1.1), Letters(8.5, 1.0)


@dataclass(frozen=True, slots=True)
class FrontSizes:
    """How one closeness is set, as the style sheet of the front has it."""

    name: Closeness
    text: Letters
    day: Letters
    title_mm: float
    head_mm: float
    row_mm: float
    """Around the words of a row."""
    when_mm: float
    """How wide the column of days is."""
    mark_mm: float
    """How high the letter of a piece is."""
    signed: Letters
    share: float
    """Of what its words alone would take: what stands between them is set closer too. Measured on twelve fronts."""


SETTINGS = (
    FrontSizes("", Letters(9.5, 1.2), Letters(10, 1.2), 7.5, 6.2, 0.95, 33.0, 4.9, Letters(9.5, 1.6), 0.985),
    FrontSizes("dense", Letters(9, 1.15), Letters(9, 1.15), 7.5, 6.2, 0.95, 31.0, 4.1, Letters(9, 1.5), 0.955),
    FrontSizes(
        "dense close", Letters(8.5, 1.12), Letters(8.5, 1.12), 6.0, 5.0, 0.65, 29.0, 3.5, Letters(8.5, 1.5), 0.94
    ),
    FrontSizes(
        "dense close closest", Letters(8, 1.1), Letters(8, 1.1), 6.0, 4.8, 0.45, 28.0, 3.5, Letters(8, 1.5), 0.885
    ),
)


def closeness(first: FirstPage, name: str, paper: PageSize) -> tuple[Closeness, bool]:
    """Return the widest setting in which the front fits its page, and whether it does; where none does, one to read."""
    room = PAGE_MM[paper] - _SPARE_MM
    fits = [sizes.name for sizes in SETTINGS if front_mm(first, name, paper, sizes) <= room]
    return (fits[0], True) if fits else ("dense over", False)


def over_mm(first: FirstPage, name: str, paper: PageSize) -> float:
    """Return about how much of its last page a front fills that fits none.

    What to do if it does not go to plan, and all below that, is kept together on the next page.
    """
    how, page = next(sizes for sizes in SETTINGS if sizes.name == "dense"), PAGE_MM[paper]
    below = how.share * (_otherwise(first, WIDTH_MM[paper], how) + _foot(first, WIDTH_MM[paper], how))
    below += _picture_mm(first, WIDTH_MM[paper])
    above = (front_mm(first, name, paper, how) - below) % page
    return above + below if above + below <= page else below


def front_mm(first: FirstPage, name: str, paper: PageSize, how: FrontSizes) -> float:
    """Return about how high the front is in a setting. [mm]"""
    width = WIDTH_MM[paper]
    parts = (
        _head(first, name, width, how),
        _days(first, width, how),
        _stop(first, width, how),
        _otherwise(first, width, how),
        _foot(first, width, how),
    )
    # The rows of the picture stand no closer, whatever the setting.
    return how.share * sum(parts) + _picture_mm(first, width)


def _picture_mm(first: FirstPage, width: float) -> float:
    if first.picture is None:
        return 0.0
    rows = first.picture.rows
    least, around = (6.6, 1.1) if len(rows) <= 5 else (3.9, 0.2)
    names = (
        (_LONG_ITEM if len(row.item) > 32 else _ITEM).height(row.item, 0.19 * width - 2.0) + around for row in rows
    )
    return 7.5 + sum(max(least, name) for name in names)


def _head(first: FirstPage, name: str, width: float, sizes: FrontSizes) -> float:
    title = Letters(14 if len(name) > 70 or sizes.title_mm < 7 else 19, 1.1)
    moved = [first.moved.title + ". " + first.moved.in_a_row] if first.moved else list(first.lost)
    systems = (
        [" ".join(f"{line.title}: {line.short}." for line in first.systems)]
        if first.pieces
        else [f"{line.title}. {line.sentence} For: {line.items}." for line in first.systems]
    )
    return (
        (5.4 + Letters(10, 1.2).height(first.across, width - 9) if first.across else 0.0)
        + Letters(9.5, 1.2).height(first.kicker, width)
        + title.height(name, width)
        + (4.6 if first.customer else 0.6)
        + (5.5 + sizes.text.heights(moved, width - 5) if moved else 0.0)
        + (16.0 if not first.pieces else 7.5)
        + (_pieces(first, width, sizes) if first.pieces else 0.0)
        + sizes.text.heights([" ".join(first.sure)], width, 0.6)
        + sizes.text.heights(systems, width, 0.4)
    )


def _pieces(first: FirstPage, width: float, sizes: FrontSizes) -> float:
    """Return how high the table of several pieces is; the dates are as wide as their words, the names have the rest."""
    dates_mm = sum(
        max(width_em(words, bold=True) for words in column) * sizes.day.size_pt * MM_OF_PT + 2.2
        for column in zip(
            ("Begin", first.ready_for, "Deliver", "! On time in"),
            *((row.start, row.ready, row.deliver, row.on_time) for row in first.pieces),
            strict=True,
        )
    )
    names = (sizes.day.height(f"{row.name}, for {row.customer}", width - dates_mm - 10.0) for row in first.pieces)
    return 5.5 + sum(max(name, sizes.mark_mm) + 0.9 for name in names)


def _days(first: FirstPage, width: float, sizes: FrontSizes) -> float:
    words_mm = width - sizes.when_mm - 9.0 - 1.0
    height = 4.0
    for line in first.days:
        told = [f"{who}. {jobs}." for who, jobs in line.people] or [f"{line.idle} {line.dates}."]
        if line.amounts:  # at the right of the first line, which is so much shorter
            told[0] = f"{line.amounts}____{told[0]}"
        dated = sizes.day.height(line.dates, words_mm) if line.people and line.dates else 0.0
        days = Letters(11.5 if line.people else 10, 1.15).height(line.days, sizes.when_mm - 1.0)
        height += max(sizes.day.heights(told, words_mm) + dated * 0.5, days) + sizes.row_mm
    return height


def _stop(first: FirstPage, width: float, sizes: FrontSizes) -> float:
    dangers = [f"{danger.title}. {danger.text}" for danger in first.dangers]
    order = f"To buy. {first.order}" if first.order else ""
    stop = [*dangers, *(f"Air. {line}" for line in first.air), order, first.rules_first]
    return sizes.head_mm + sizes.text.heights(stop, width - 9.5, 0.6) + 3.0


def _otherwise(first: FirstPage, width: float, sizes: FrontSizes) -> float:
    text = sizes.text
    rows = [text.height(words, width - 30.0) + 0.85 for _, words in first.not_to_plan]
    told = [" ".join(lines) for lines in (first.mind, first.notes, first.done)]
    return (sizes.head_mm + sum(rows) if rows else 0.0) + 1.0 + text.heights(told, width, 0.6)


def _foot(first: FirstPage, width: float, sizes: FrontSizes) -> float:
    height = 2 * sizes.text.line if first.picture else 0.0
    signed = (
        f"Sample board, {first.sample}: made on {'_' * 14} found good by {first.approves}: {'_' * 14} Tin: batch no. "
    )
    signed += f"{'_' * 14} opened on {'_' * 14} Ring if in doubt: {first.ring} Signed {'_' * 14}"
    return height + sizes.signed.height(signed, width - 7) + 2.5
