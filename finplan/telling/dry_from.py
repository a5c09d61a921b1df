"""From when what was put on is dry, in a sentence: by the air as it was measured, and in the shop's usual air."""

from __future__ import annotations

from datetime import datetime

from finplan.moments import not_before, show_moment
from finplan.timetable import DryFrom

_FIT = {"handle": "fit to handle", "light-use": "fit for light use", "cure": "cured"}


def dry_from_words(dry: DryFrom) -> str:
    """Return from when the next step may be done to what is wet, in a sentence without its stop."""
    name = dry.item if dry.piece is None else f"{dry.piece}, {dry.item}"
    stood = "" if dry.stood is None else f"; that is too late for {show_moment(dry.stood)}, when it was planned"
    return f"{name}: {_when_dry(dry)}{_as_usual(dry.usual) if dry.otherwise else ''}{stood}"


def _when_dry(dry: DryFrom) -> str:
    stage = _FIT[dry.ready_for] if dry.next_step is None else f"dry enough for the next step, {dry.next_step},"
    on = f"{dry.coat} of {show_moment(dry.put_on)}"
    if dry.dry_from is None:
        return f"{on} does not get {stage} in the time that is looked at"
    return f"{on} is {stage} from {show_moment(not_before(dry.dry_from))}"


def _as_usual(dry_from: datetime | None) -> str:
    words = "it would not get so far" if dry_from is None else f"it would be from {show_moment(not_before(dry_from))}"
    return f", by the air as it was measured and, after that, the shop's usual air; in that all along {words}"
