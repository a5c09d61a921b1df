"""Which sections are set closer or go on over the page, and where a care card stands: on as few pages as may be."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import Literal

from finplan.sheet.room import PAGE_MM, PageSize

CarePlace = Literal["days", "last"]
"""Behind the last day, or last of all where that takes less."""
_PLACES: tuple[CarePlace, ...] = ("days", "last")
_SPARE_MM = 3.0
"""So much is left free below a section."""
_HEAD_MM = 60.0
"""With so little below them what goes on begins on the next page: its head and the first of it stand together."""
_OFF = (0.97, 1.0, 1.03, 1.06)
"""How many times as high as it is reckoned all may be."""
_SLIP, _ALONE = 0.5, 0.8
"""What is less high, of a page, stands on none alone if that can be, and how much of a page it counts as more."""
_PARTED = 0.5
"""How much of a page it counts as more if what has room on one goes on over it: safety is pinned up whole."""
_CLOSE = 0.79
"""Of its height the safety takes set closer; measured on five."""


@dataclass(frozen=True, slots=True)
class SheetSection:
    """One section of the sheet."""

    height_mm: float
    flows: bool = False
    """Whether it begins where it stands and goes on; else it begins where there is room for all of it."""
    fits_page: bool = False
    """Of what goes on, whether it need not, set however close: then it counts where it does."""


@dataclass(frozen=True, slots=True)
class Below:
    """How what comes behind the days stands."""

    pages: float
    """How many pages it begins, with that of the last day; a card that stands alone, and safety that goes on over the
    page though it has room on one, count as part of a page more."""
    safety_close: bool
    """Whether the safety is set closer: that saves a page."""
    safety_flows: bool
    card: CarePlace
    """Where the one card stands."""
    last_close: bool = False
    """Whether what comes last is set closer: that saves a page."""


def below_days(
    filled_mm: Sequence[float],
    safety_mm: float,
    card_mm: float | None,
    last: Sequence[Sequence[SheetSection]],
    paper: PageSize,
) -> Below:
    """Return how what comes behind the days stands: as wide and as whole as may be on the fewest pages.

    Parameters
    ----------
    filled_mm
        How much the days fill, or may fill, of their last page
    safety_mm
        How high the safety is as it is set usually
    card_mm
        How high the one care card is; None of several, which come last, each on a slip of its own
    last
        The sections behind the safety, as they are set usually, and where there is another way, set closer
    paper
        Of which size the pages are
    """
    ways = (
        replace(below, last_close=number > 0)
        for number, sections in enumerate(last)
        for below in (
            _of_several(filled_mm, safety_mm, sections, paper)
            if card_mm is None
            else _ways(filled_mm, safety_mm, SheetSection(card_mm), sections, paper)
        )
    )
    return min(ways, key=lambda below: below.pages)


def _of_several(
    filled_mm: Sequence[float], safety_mm: float, last: Sequence[SheetSection], paper: PageSize
) -> Iterator[Below]:
    """Give the ways to set the safety of several pieces, which goes on behind the days."""
    for close, share in ((False, 1.0), (True, _CLOSE)):
        sections = (SheetSection(share * safety_mm, flows=True), *last)
        yield Below(_pages(filled_mm, sections, paper), close, True, "last")


def _ways(
    filled_mm: Sequence[float], safety_mm: float, card: SheetSection, last: Sequence[SheetSection], paper: PageSize
) -> Iterator[Below]:
    """Give every way to place the card of one piece and the safety, the ones that are liked best first."""
    for flows, place, close in product((False, True), _PLACES, (False, True)):
        safety = SheetSection((_CLOSE if close else 1.0) * safety_mm, flows, _CLOSE * safety_mm <= PAGE_MM[paper])
        if (safety.height_mm > PAGE_MM[paper] and not flows) or (
            place == "last" and any(section.flows for section in last)
        ):
            continue  # too high; or nobody knows beforehand where what goes on will end
        sections = {
            "days": (card, safety, *last),
            "last": (safety, *last, card),
        }
        yield Below(_pages(filled_mm, sections[place], paper), close, flows, place)


def _pages(filled_mm: Sequence[float], sections: Sequence[SheetSection], paper: PageSize) -> float:
    """Return on how many pages sections stand, with the one of which so much is filled: the mean of what may be."""
    pages = [_pages_if(filled, sections, PAGE_MM[paper], off) for filled in filled_mm for off in _OFF]
    return sum(pages) / len(pages)


def _pages_if(filled_mm: float, sections: Sequence[SheetSection], page_mm: float, off: float) -> float:
    """Return the same if all is so many times as high as it is reckoned."""
    page, pages, alone = page_mm / off, 1.0, False
    for section in sections:
        if filled_mm + section.height_mm + _SPARE_MM <= page:
            filled_mm += section.height_mm
            alone = False
        elif section.flows:
            begun_mm = filled_mm if page - filled_mm > _HEAD_MM else page
            parted = section.fits_page and begun_mm < page
            whole, filled_mm = divmod(begun_mm + section.height_mm, page)
            pages += int(whole) + parted * _PARTED
            alone = False
        else:
            pages, filled_mm = pages + 1 + alone * _ALONE, section.height_mm
            alone = section.height_mm < _SLIP * page
    return pages + alone * _ALONE
