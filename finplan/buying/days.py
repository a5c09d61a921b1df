"""Days on which something is ordered and comes: a supplier's working days, and those on which the shop is open."""

from __future__ import annotations

from datetime import date, timedelta

from finplan.inputs import Shop

_DAY = timedelta(days=1)
_FARTHEST = 3660
"""Days that are looked through: no shop is closed for ten years."""


def works(day: date, shop: Shop) -> bool:
    """Return whether a supplier works on a day: from Monday to Friday, but for the public holidays of the shop."""
    return day.weekday() < 5 and not shop.is_holiday(day)


def is_open(day: date, shop: Shop) -> bool:
    """Return whether anybody is in the shop on a day, to order or to take in what comes."""
    return any(shop.shifts(person, day) for person in shop.people)


def there_by(needed: date, shop: Shop) -> date:
    """Return the last day on which something may come that is needed on a day: before that day, so that it is there
    when work begins, and while both shop and supplier work.
    """  # noqa: D205
    return _back(needed - _DAY, shop)


def order_by(comes: date, lead_days: int, shop: Shop) -> date:
    """Return the last day on which something may be ordered that has to come on a day.

    Parameters
    ----------
    comes
        When it has to come
    lead_days
        So many working days of the supplier lie between the order and that: ordered on Monday, what takes one comes on
        Tuesday; none is fetched or comes at once
    shop
        When it is open, and its public holidays
    """
    day = comes
    for _ in range(lead_days):
        day -= _DAY
        while not works(day, shop) and (comes - day).days < _FARTHEST:
            day -= _DAY
    return _back(day, shop)


def comes_on(ordered: date, lead_days: int, shop: Shop) -> date:
    """Return when something comes that is ordered on a day, or on the next on which that is done."""
    day = _on(ordered, shop)
    for _ in range(lead_days):
        day += _DAY
        while not works(day, shop) and (day - ordered).days < _FARTHEST:
            day += _DAY
    return _on(day, shop)


def _back(day: date, shop: Shop) -> date:
    open_day = day
    while not (works(open_day, shop) and is_open(open_day, shop)) and (day - open_day).days < _FARTHEST:
        open_day -= _DAY
    return open_day


def _on(day: date, shop: Shop) -> date:
    open_day = day
    while not (works(open_day, shop) and is_open(open_day, shop)) and (open_day - day).days < _FARTHEST:
        open_day += _DAY
    return open_day
