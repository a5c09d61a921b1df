"""The air that a coat wants: in which it may be put on, after what dust, and what the cold does while it dries."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from finplan.catalogue import Finish
from finplan.climate import temperatures_c
from finplan.inputs import Climate
from finplan.listing import listed
from finplan.quantity import Units
from finplan.showing import capital, plain, show_duration, show_temperature
from finplan.spans import show_span
from finplan.timetable import TimetableStep

_ANY_HUMIDITY = (0.0, 100.0)


def cold_words(row: TimetableStep, units: Units) -> Iterator[str]:
    """Give a sentence for everything that the cold does to the coat that a row dries.

    Parameters
    ----------
    row
        Of drying
    units
        In which temperatures are told
    """
    if row.film_fails_below_c is not None:
        limit = show_temperature(row.film_fails_below_c, units)
        yield f"Keep it above {limit} until it is through-dry, or its film dries white, powdery or cracked: heat."
    if row.slow_below_c is not None:
        limit = show_temperature(row.slow_below_c, units)
        yield f"Colder than {limit} at times: it dries more slowly then, and the times here count that."


@dataclass(frozen=True, slots=True)
class CoatAir:
    """The air in which a finish may be put on, as it is read beside its limits."""

    warmth: str
    damp: str
    """Empty where any will do."""
    of: tuple[str, ...] = ()
    """Of which finishes, where another of the same work wants other air."""

    @property
    def asked(self) -> str:
        """How what it wants begins."""
        return of_finishes(self.of, "Only at")

    @property
    def told(self) -> str:
        """Both in a sentence."""
        return f"{self.asked} {self.warmth}{f' and {self.damp} humidity' if self.damp else ''}."


def of_finishes(titles: Collection[str], words: str) -> str:
    """Return words with the finishes that they are of before them, or as they are where that is said of none.

    >>> of_finishes(["Sanding sealer, lacquer"], "Only at 15 °C."), of_finishes([], "Only at 15 °C.")
    ('Sanding sealer: only at 15 °C.', 'Only at 15 °C.')
    """
    if not titles:
        return words
    named = capital(listed([title.lower().partition(",")[0] for title in titles]))
    return f"{named}: {words[0].lower()}{words[1:]}"


def coat_air(finish: Finish, units: Units) -> CoatAir:
    """Return the air in which a finish may be put on."""
    warmth, damp = finish.apply.temperature_c, finish.apply.humidity_pct
    any_damp = (damp.low, damp.high) == _ANY_HUMIDITY
    return CoatAir(
        show_span(show_temperature(warmth.low, units), show_temperature(warmth.high, units)),
        "" if any_damp else show_span(f"{plain(damp.low)} %", f"{plain(damp.high)} %"),
    )


def air_limits(finish: Finish, units: Units) -> str:
    """Return the air in which a finish may be put on, in a sentence."""
    return coat_air(finish, units).told


def lag_words(finish: Finish, climate: Climate, months: Collection[int] | None, units: Units) -> str:
    """Return that wood and tin are colder than the air; empty where the shop is never too cold for a finish.

    Parameters
    ----------
    finish
        What is put on
    climate
        The shop's
    months
        In which that is; None where that is not known
    units
        In which temperatures are told

    Notes
    -----
    Common trade practice; no single publication.
    """
    lowest_c = finish.apply.temperature_c.low
    if min(temperatures_c(climate, months)) >= lowest_c:
        return ""
    return f"Thermometer at wood and tin: both at {show_temperature(lowest_c, units)}, they lag behind a heated room."


def settling_words(wait_h: float) -> str:
    """Return when a coat is begun after sanding; empty where its dust does not get there."""
    return f"Begin when nobody has sanded for {show_duration(wait_h)} and the dust has settled." if wait_h else ""
