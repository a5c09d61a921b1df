"""The shop that was assumed, in words."""

from __future__ import annotations

from finplan.inputs import default_shop
from finplan.moments import show_week
from finplan.showing import show_temperature


def default_shop_words() -> str:
    """Return what the default shop assumes, in a sentence."""
    shop = default_shop().shop
    hours = show_week([[shift.minutes for shift in day] for day in shop.people[0].hours])
    day, night = shop.climate.day, shop.climate.night
    air = (
        f", {show_temperature(day.temperature_c, 'metric')} by day and "
        f"{show_temperature(night.temperature_c, 'metric')} at night"
        if day and night
        else ""
    )
    return f"the default shop is assumed, {hours}{air}; name yours with --shop"
