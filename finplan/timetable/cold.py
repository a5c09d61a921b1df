"""What the cold does to a coat while it dries, in words."""

from __future__ import annotations

from collections.abc import Iterator

from finplan.quantity import Units
from finplan.showing import show_temperature
from finplan.timetable.timetable import TimetableStep


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
