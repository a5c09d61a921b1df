"""A shop's own times, as a plan is made with them: how long work takes here, and how slowly coats dry."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from math import exp, log
from statistics import NormalDist, fmean
from typing import TYPE_CHECKING, Any

from finplan.catalogue import Catalogue, Finish, catalogue_from
from finplan.quantity import Range

if TYPE_CHECKING:
    from finplan.learning.pace import Pace

_Z95 = NormalDist().inv_cdf(0.95)


@dataclass(frozen=True, slots=True)
class OwnTime:
    """In times what is reckoned, by its 5th, 50th and 95th percentile, and on how many notes that rests."""

    times: Range
    count: int


@dataclass(frozen=True, slots=True)
class Times:
    """What a shop has learnt of its times."""

    work: Mapping[str, OwnTime] = field(default_factory=dict)
    """By kind of work: a deed of the timetable."""
    drying: Mapping[str, OwnTime] = field(default_factory=dict)
    """By finish."""

    def of_work(self, deed: str) -> float:
        """Return in how many times what is reckoned some work is done here; 1 where nothing was timed."""
        return self.work[deed].times.typical if deed in self.work else 1.0

    def over(self, catalogue: Catalogue) -> Catalogue:
        """Return a catalogue in which finishes dry as they do here.

        Notes
        -----
        What dries more slowly here does so at every stage. What dries faster is recoated sooner, but never before the
        shortest time until another coat that the label or the catalogue has, and everything else is left as it was: a
        coat that takes another is not for that fit to handle or cured.
        """
        dried = {
            name: _dried(catalogue.finishes[name], own, catalogue)
            for name, own in self.drying.items()
            if name in catalogue.finishes
        }
        if not dried:
            return catalogue
        kinds = catalogue.kinds()
        return catalogue_from({**kinds, "finishes": {**kinds["finishes"], **dried}}, catalogue.files)


NO_TIMES: Times = Times()
_STAGES = ("touch_dry_h", "dust_free_h", "handle_h", "light_use_h", "cure_h")


def _dried(finish: Finish, own: OwnTime, catalogue: Catalogue) -> Finish:
    times = own.times.typical
    changed: dict[str, Any] = {"recoat_h": _recoat(finish.recoat_h, own, catalogue)}
    if times > 1:
        known = {name: getattr(finish, name) for name in _STAGES}
        changed |= {name: hours.scaled(times) for name, hours in known.items() if hours is not None}
        if finish.film is not None:
            through = {"through_dry_h": finish.film.through_dry_h.scaled(times)}
            changed["film"] = finish.film.model_copy(update=through)
    return finish.model_copy(update=changed)


def _recoat(label: Range, own: OwnTime, catalogue: Catalogue) -> Range:
    """Return how long the next coat waits. [h]

    As wide as what is not known yet of this shop, and what one coat differs from the next.
    """
    from finplan.material import deviation  # here: every piece has times, and is checked without its materials

    unknown = log(own.times.high / own.times.typical) / _Z95
    wide = exp(_Z95 * (unknown**2 + deviation(catalogue.learning["shop"].dries) ** 2) ** 0.5)
    typical = label.typical * own.times.typical
    return Range(*(max(label.low, hours) for hours in (typical / wide, typical, typical * wide)))


def times_of(paces: Sequence[Pace], people: Sequence[str]) -> Times:
    """Return how long everything takes here.

    Parameters
    ----------
    paces
        What was learnt of each kind of work, by person, and of each finish
    people
        Who works in the shop now

    Notes
    -----
    A plan is made before it is settled who does what: of several who were timed, each is as likely to do it. Where none
    of those is there any more, what they have in common is what is known.
    """
    work: dict[str, OwnTime] = {}
    drying: dict[str, OwnTime] = {}
    of_deed: dict[str, list[Pace]] = {}
    for pace in paces:
        if pace.sort == "drying":
            drying[pace.of] = OwnTime(pace.said.posterior, pace.said.count)
        else:
            of_deed.setdefault(pace.of, []).append(pace)
    for deed, its_paces in of_deed.items():
        own = [known for known in its_paces if known.person in people] or [
            known for known in its_paces if not known.person
        ]
        together = next((known for known in its_paces if not known.person), own[0])
        work[deed] = OwnTime(_middle([known.said.posterior for known in own]), together.said.count)
    return Times(work, drying)


def _middle(known: Sequence[Range]) -> Range:
    levels = ([range_.low for range_ in known], [range_.typical for range_ in known], [range_.high for range_ in known])
    return Range(*(exp(fmean(log(value) for value in level)) for level in levels))
