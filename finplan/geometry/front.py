"""The chain of links that an outline becomes when it is set back all round."""

from __future__ import annotations

import math
from dataclasses import dataclass

from finplan.geometry.corner import Corner, TooFarError
from finplan.geometry.crossing import Strand
from finplan.geometry.outline import SMOOTH_RAD, Arc, Link, Outline, turn_between

_LEVEL = 1e-9


@dataclass(frozen=True, slots=True)
class Peak:
    """A place on the front where y stops rising or falling: the end of a link, or the corner after it."""

    link: Link
    corner: Corner | None
    weight: int
    """How often its y counts in ``∮|dy|``: from -2, a lowest point, to 2, a highest."""

    @property
    def even(self) -> bool:
        """Whether it moves evenly with the set-back."""
        return self.corner is None or self.corner.even

    def share_mm(self, s: float) -> float:
        """Return its part of ``∮|dy|`` at set-back *s*. [mm]"""
        return self.weight * self.link.at(self.corner.at(s)[0] if self.corner else 1.0, s).imag


@dataclass(frozen=True, slots=True)
class Front:
    """The outline, set back by *from_mm* or somewhat more, until a link is used up.

    ``corners`` maps the index of a link to the corner after it; between other neighbours the chain is smooth.
    """

    links: tuple[Link, ...]
    corners: dict[int, Corner]
    rises: tuple[int, ...]
    """Whether y rises (1), stays (0) or falls (-1) along each link."""
    from_mm: float = 0.0

    @classmethod
    def of(cls, outline: Outline) -> Front:
        """Return the front that starts from an outline, with the arcs of set-back 0 in its inside corners."""
        links: list[Link] = []
        corners: dict[int, Corner] = {}
        closing: list[tuple[int, Link]] = []
        for link, turn_rad in zip(outline.links, outline.corners_rad(), strict=True):
            links.append(link)
            if turn_rad > SMOOTH_RAD:
                closing.append((len(links) - 1, link))
            elif turn_rad < -SMOOTH_RAD:
                # Square to the way it goes, on the left: where the outline's inside is.
                out_rad = math.atan2(link.direction(1.0).real, -link.direction(1.0).imag)
                links += Arc(link.at(1.0), 0.0, out_rad, turn_rad).steady()
        for index, link in closing:
            corners[index] = Corner(link, links[(index + 1) % len(links)], {0.0: (1.0, 0.0)})
        return cls(tuple(links), corners, tuple(_rise(link) for link in links))

    def span(self, index: int, s: float) -> tuple[float, float]:
        """Return what is left of a link at set-back *s*: its first and last parameter."""
        before = self.corners.get((index - 1) % len(self.links))
        after = self.corners.get(index)
        return before.at(s)[1] if before else 0.0, after.at(s)[0] if after else 1.0

    def left_mm(self, index: int, s: float) -> float:
        """Return a length that falls to zero as a link is used up. [mm]"""
        link = self.links[index]
        low, high = self.span(index, s)
        # An inside corner's arc has no length of its own; the set-back gives it one.
        extent_mm = (high - low) * (link.length_mm or s)
        return min(extent_mm, link.vanishes_at_mm() - s)

    def strands(self, s: float) -> list[Strand]:
        """Return the moved chain."""
        return [Strand(link, *self.span(index, s), s) for index, link in enumerate(self.links)]

    def peaks(self) -> list[Peak]:
        """Return where y stops rising or falling."""
        peaks: list[Peak] = []
        for index, (rise, after) in enumerate(zip(self.rises, (*self.rises[1:], self.rises[0]), strict=True)):
            if rise != after:
                peaks.append(Peak(self.links[index], self.corners.get(index), rise - after))
        return peaks

    def without(self, used_up: set[int], s: float) -> Front:
        """Return the front that goes on when some links are used up.

        Raises
        ------
        TooFarError
            Nothing is left.
        """
        kept = [index for index in range(len(self.links)) if index not in used_up]
        if len(kept) < 2:
            raise TooFarError("nothing is left of it")
        links = tuple(self.links[index] for index in kept)
        corners: dict[int, Corner] = {}
        for place, index in enumerate(kept):
            following = kept[(place + 1) % len(kept)]
            if following == (index + 1) % len(self.links):
                if index in self.corners:
                    corners[place] = self.corners[index]
                continue
            before, after = self.links[index], self.links[following]
            ends = self.span(index, s)[1], self.span(following, s)[0]
            turn_rad = turn_between(before.direction(ends[0]), after.direction(ends[1]))
            if turn_rad < -SMOOTH_RAD or turn_rad > math.pi - SMOOTH_RAD:
                raise TooFarError("nothing is left of it")
            if turn_rad > SMOOTH_RAD:
                corners[place] = Corner(before, after, {s: ends})
        return Front(links, corners, tuple(self.rises[index] for index in kept), s)


def _rise(link: Link) -> int:
    """Return whether y rises (1), stays (0) or falls (-1) along a link."""
    slope = link.direction(0.5).imag
    return 0 if abs(slope) < _LEVEL else int(math.copysign(1, slope))
