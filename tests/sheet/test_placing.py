"""Where safety and care card stand behind the days: on the fewest pages, and a card alone on none if that can be."""

from __future__ import annotations

import pytest

from finplan.sheet.placing import Below, SheetSection, below_days
from finplan.sheet.room import PAGE_MM

PAGE = PAGE_MM["A4"]
FULL = (SheetSection(0.9 * PAGE), SheetSection(0.9 * PAGE))


def placed(filled: float, safety: float, card: float | None, last: tuple[SheetSection, ...] = FULL) -> Below:
    return below_days([filled * PAGE], safety * PAGE, None if card is None else card * PAGE, [last], "A4")


@pytest.mark.parametrize(
    ("filled", "safety", "last", "where"),
    [
        (0.5, 0.9, FULL, "days"),
        (0.95, 0.6, FULL, "days"),
        (0.95, 1.0, (SheetSection(0.9 * PAGE), SheetSection(0.5 * PAGE)), "last"),
    ],
)
def test_the_card_stands_in_the_first_place_that_takes_no_page_more(
    filled: float, safety: float, last: tuple[SheetSection, ...], where: str
) -> None:
    below = placed(filled, safety, 0.25, last)
    assert below.card == where
    assert below.pages < 1 + 1 + len(last) + 0.5, "and it is alone on no page"


def test_safety_with_room_on_a_page_goes_on_only_where_that_saves_one_surely() -> None:
    """It is pinned up whole; a card stands alone for it all the same nowhere."""
    last = (SheetSection(0.8 * PAGE), SheetSection(0.6 * PAGE))
    assert not placed(0.57, 0.77, 0.31, last).safety_flows, "with all a little higher it saves none"
    assert placed(0.57, 0.7, 0.5, last).safety_flows, "it saves one"
    assert placed(0.7, 0.72, 0.46, (SheetSection(0.95 * PAGE), SheetSection(0.78 * PAGE))).safety_flows, "a card alone"


def test_it_is_last_only_where_it_is_known_where_that_is() -> None:
    going_on = (SheetSection(0.9 * PAGE), SheetSection(1.5 * PAGE, flows=True))
    assert placed(0.95, 1.0, 0.25, going_on).card != "last"


def test_safety_is_set_closer_only_where_that_saves_a_page() -> None:
    assert not placed(0.3, 0.5, None).safety_close
    assert placed(0.3, 0.8, None).safety_close, "wide it goes on on another page"
    assert placed(0.95, 1.1, 0.01).safety_close


def test_where_days_may_end_on_another_page_the_card_is_placed_for_both() -> None:
    """It fits below them where they end early; where they may as well fill their page, it stands with what follows."""
    safety, card = 0.9 * PAGE, 0.45 * PAGE
    assert not below_days([0.2 * PAGE], safety, card, [FULL], "A4").safety_flows
    assert below_days([0.2 * PAGE, 0.7 * PAGE, 0.7 * PAGE], safety, card, [FULL], "A4").safety_flows


def test_what_comes_last_is_set_closer_only_where_that_saves_a_page() -> None:
    def last(*heights: float) -> list[tuple[SheetSection, ...]]:
        return [(SheetSection(0.45 * PAGE), SheetSection(height * PAGE)) for height in heights]

    assert below_days([0.95 * PAGE], 0.5 * PAGE, 0.45 * PAGE, last(0.6, 0.45), "A4").last_close
    assert not below_days([0.95 * PAGE], 0.5 * PAGE, 0.45 * PAGE, last(0.45, 0.4), "A4").last_close


def test_what_is_higher_than_a_page_goes_on() -> None:
    assert placed(0.95, 1.6, 0.25).safety_flows
    assert not placed(0.95, 0.7, 0.2).safety_flows
    assert placed(0.2, 0.7, None).safety_flows, "that of several pieces begins where it stands"


def test_a_page_that_is_nearly_full_is_counted_as_it_may_be() -> None:
    """What is reckoned to just fit may not: it counts as part of a page more."""
    just, surely = placed(0.4, 0.59, None), placed(0.4, 0.3, None)
    assert surely.pages < just.pages < surely.pages + 1 or just.safety_close
