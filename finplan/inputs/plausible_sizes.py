"""What is ordinary: the bounds of sizes, rooms, joints and hours outside which something else was probably meant.

They stand in ``plausible-sizes.yaml`` of the catalogue.
"""

from datetime import time
from functools import cache
from typing import Annotated, Literal

from pydantic import Field

from finplan.catalogue import CatalogueFiles
from finplan.inputs.hours import ClockTime
from finplan.inputs.shapes.part import OptionalLength
from finplan.problems import RefusedError
from finplan.reading import DurationH, LengthMm, Name, Percentage, Record, Title, VolumeMl, validate


class _Bound(Record):
    """What all bounds share: what they are of, and that they rest on common practice."""

    title: Title
    basis: Literal["practice"]


class Bounds(_Bound):
    """Between which sizes a thing hardly ever falls outside, and what it ordinarily is. In mm."""

    below_mm: OptionalLength = None
    above_mm: OptionalLength = None
    from_mm: LengthMm
    to_mm: LengthMm
    never_below_mm: OptionalLength = None
    """Nothing of the sort is smaller, whatever was meant."""
    named: tuple[Name, ...] = ()
    """The bounds hold for parts with one of these words in their name."""

    def ordinary(self, size_mm: float) -> bool:
        """Whether such a size is an ordinary one."""
        return self.from_mm <= size_mm <= self.to_mm


class TopBounds(Bounds):
    """Bounds of the way across a top."""

    times_as_thick: Annotated[float, Field(gt=1)]
    """A top is hardly at most so many times as wide as thick, but where its width was read in too small a unit."""


class RoomBound(_Bound):
    """How large a room is that somebody works in."""

    least_ml: VolumeMl


class JoinedBound(_Bound):
    """How much of a slender part its joints cover."""

    most_pct: Percentage


class HoursBounds(_Bound):
    """Which hours of work are hardly any but those of a clock of twelve hours."""

    from_: ClockTime
    """Nobody begins from this time of the night on, …"""
    before: ClockTime
    """… before that, …"""
    over_by: ClockTime
    """… and is done by then."""
    longest_h: DurationH
    """Nobody works on for more than so long."""

    def at_night(self, start_min: float, end_min: float) -> bool:
        """Whether hardly anybody works so, in minutes after midnight."""
        return _minutes(self.from_) <= start_min < _minutes(self.before) and end_min <= _minutes(self.over_by)


def _minutes(clock: time) -> int:
    return clock.hour * 60 + clock.minute


class Sizes(Record):
    """All bounds."""

    leg_length: Bounds
    leg_side: Bounds
    thickness: Bounds
    rod: Bounds
    turning: Bounds
    top: TopBounds
    length: Bounds
    circumference: Bounds
    room: RoomBound
    joined: JoinedBound
    hours: HoursBounds


@cache
def plausible_sizes(files: CatalogueFiles) -> Sizes:
    """Return the bounds that stand beside the records of a catalogue.

    Raises
    ------
    RefusedError
        The file is not as it should be.
    """
    document = files.document("plausible-sizes")
    sizes, findings = validate(Sizes, document.data)
    if sizes is None:
        raise RefusedError([document.problem(finding) for finding in findings])
    return sizes
