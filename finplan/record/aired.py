"""The air of the shop as the record knows it: readings beside ticks, and what was told when a plan was made."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Any

from finplan.climate import Measured, Weather
from finplan.ledger import HeldPlan, Ledger, Tick, read_back_as, size_of, ticks_of, zoned
from finplan.planning import Plan, with_stages

_AT_LEAST = timedelta(hours=1)
"""A reading stands for no less, however soon the shop's own air changes: a piece takes as long to follow it."""


@dataclass(frozen=True, slots=True)
class Aired:
    """The air that a plan reckons with in the place of the shop file's."""

    ticked: tuple[Measured, ...] = ()
    """By readings beside ticks: each until the shop's air changes by its file, from day to night say."""
    told: tuple[Measured, ...] = ()
    """As it was told when a plan was made, which counts where both speak of the same time."""

    @property
    def all(self) -> tuple[Measured, ...]:
        """All of it, the last word counting."""
        return (*self.ticked, *self.told)

    def plain(self) -> dict[str, Any]:
        """Return it as plain values."""
        return {
            "ticked": [_plain(measured) for measured in self.ticked],
            "told": [_plain(measured) for measured in self.told],
        }

    @classmethod
    def of(cls, answer: Mapping[str, Any]) -> Aired:
        """Return what is held of it with a plan; nothing where nothing is.

        Raises
        ------
        LedgerError
            It is no air.
        """
        with read_back_as("air"):
            held = answer.get("air", {})
            return cls(*(tuple(_read(values) for values in held.get(name, ())) for name in ("ticked", "told")))


def with_air(plan: Plan, aired: Aired) -> Plan:
    """Return a plan, of which nothing is reckoned yet, in air as it was measured."""
    return replace(plan, wishes=replace(plan.wishes, measured=aired.all))


def in_air_until(plan: Plan, ledger: Ledger, held: HeldPlan, moment: datetime) -> Plan:
    """Return a plan of a job that knows the air as it was measured up to a moment; *held* is the job's newest."""
    aired = Aired(read_beside(ticks_of(ledger), plan, moment), Aired.of(held.made.answer).told)
    return with_stages(plan, wishes=replace(plan.wishes, measured=aired.all))


def read_beside(ticks: Iterable[Tick], plan: Plan, until: datetime) -> tuple[Measured, ...]:
    """Return what the readings beside ticks say of the air of the shop up to a moment."""
    weather = Weather(plan.shop.climate, plan.shop.time_zone)
    stretches = []
    for tick in ticks:
        if (tick.air_c, tick.humidity_pct) == (None, None):
            continue
        ends = min(until, max(_next_change(weather, tick.at), tick.at + _AT_LEAST))
        if tick.at < ends:
            stretches.append(Measured(tick.at, ends, tick.air_c, tick.humidity_pct))
    return tuple(sorted(stretches, key=lambda measured: measured.begins))


def _next_change(weather: Weather, at: datetime) -> datetime:
    day = timedelta(days=1)
    return next((begins for begins, _ in weather.pieces(at, at + day) if begins > at), at + day)


def wet_since(done: Mapping[str, datetime], plan: Plan) -> datetime | None:
    """Return when the first of the coats was on that nothing has been done to yet; None where there is none."""
    there = [
        done[operation.id]
        for piece in plan.pieces
        for operation in piece.operations
        if operation.finish is not None
        and operation.id in done
        and not any(
            operation.id in (after.id for after in later.after) and later.id in done for later in piece.operations
        )
    ]
    return min(there, default=None)


def _plain(measured: Measured) -> list[Any]:
    return [measured.begins.isoformat(), measured.ends.isoformat(), measured.temperature_c, measured.humidity_pct]


def _read(values: Sequence[Any]) -> Measured:
    begins, ends, *air = values
    temperature_c, humidity_pct = (None if figure is None else size_of(float(figure)) for figure in air)
    return Measured(zoned(begins), zoned(ends), temperature_c, humidity_pct)
