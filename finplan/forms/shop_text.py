"""The answers to a few questions about a workshop as the text of a shop file."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from finplan.forms.filling import form_text
from finplan.quantity import Units


@dataclass(frozen=True, slots=True)
class ShopAnswers:
    """What is said of a workshop that is begun, as a shop file says it; all else is as in the default shop."""

    title: str
    units: Units
    time_zone: str
    person: str
    hours: str
    """By days of the week: ``{mon-thu: [8:00-12:00, 12:30-17:00], fri: 8:00-13:00}``."""
    day: str
    """How warm it is by day."""
    night: str
    """How warm it is by night."""
    room: str
    """The volume of the room, or its length, width and height: what is worked in, coated and dried in."""
    holidays: str | None = None
    """The country, or the part of one, by its code; None where it is not known."""

    @property
    def paper(self) -> Literal["a4", "letter"]:
        """What goes with the units."""
        return "a4" if self.units == "metric" else "letter"


def usual_shop(units: Units, time_zone: str, holidays: str | None = None) -> ShopAnswers:
    """Return what is written of a workshop of which nobody has said more."""
    metric = units == "metric"
    return ShopAnswers(
        title="My workshop",
        units=units,
        time_zone=time_zone,
        person="Maker",
        hours="{mon-fri: [8:00-12:00, 13:00-17:00]}",
        day="20 degC" if metric else "68 degF",
        night="16 degC" if metric else "61 degF",
        room="100 m3" if metric else "3500 ft3",
        holidays=holidays,
    )


def write_shop(answers: ShopAnswers) -> str:
    """Return the text of a shop file, with comments; whether what it says can be is for whoever reads it."""
    return form_text("shop.yaml", answers.units, answers=answers)
