"""The shop that was assumed, in words."""

from __future__ import annotations

from finplan.inputs import WEEKDAYS, Shop, default_shop
from finplan.showing import show_temperature


def default_shop_words() -> str:
    """Return what the default shop assumes, in a sentence."""
    shop = default_shop().shop
    day, night = shop.climate.day, shop.climate.night
    air = (
        f", {show_temperature(day.temperature_c, 'metric')} by day and "
        f"{show_temperature(night.temperature_c, 'metric')} at night"
        if day and night
        else ""
    )
    return f"the default shop is assumed, {hours_words(shop)}{air}; name yours with --shop"


def hours_words(shop: Shop) -> str:
    """Return when the first person works, day by day: ``mon 8:00-12:00, 13:00-17:00; …``."""
    week = shop.people[0].hours
    days: list[tuple[str, str]] = []
    for name, shifts in zip(WEEKDAYS, week, strict=True):
        if shifts:
            days.append((name, ", ".join(f"{_clock(shift.start_min)}-{_clock(shift.end_min)}" for shift in shifts)))
    if days and all(hours == days[0][1] for _, hours in days):
        span = days[0][0] if len(days) == 1 else f"{days[0][0]}-{days[-1][0]}"
        return f"{span} {days[0][1]}"
    return "; ".join(f"{name} {hours}" for name, hours in days)


def _clock(minutes: int) -> str:
    return f"{minutes // 60 % 24}:{minutes % 60:02d}"
