"""Dust: how much there is, how little of it the air may hold, and what has to hold it back."""

from __future__ import annotations

from dataclasses import dataclass

from finplan.catalogue import Catalogue
from finplan.quantity import Range


@dataclass(frozen=True, slots=True)
class DustLimitLine:
    """One limit, and what it means here."""

    jurisdiction: str
    limit_mg_m3: float
    in_the_air_g: float | None
    """How much dust may hang in the air of the room at once; None where its size is not known. [g]"""
    source: str


@dataclass(frozen=True, slots=True)
class DustReport:
    """The wood dust of a piece. Masses in g."""

    dust_g: Range
    room: str | None
    """Where it is sanded."""
    volume_m3: float | None
    limits: tuple[DustLimitLine, ...]
    """Those that hold for these timbers, the strictest first."""
    extractor: str
    """The class that an extractor has to be of."""
    passes_pct: float
    """The most that such a one lets through."""
    extractor_source: str


def dust_report(
    dust_g: Range, *, hardwood: bool, lead: bool, room: str | None, volume_m3: float | None, catalogue: Catalogue
) -> DustReport:
    """Return the dust of a piece against the limits.

    Parameters
    ----------
    dust_g
        From the sanding plan
    hardwood
        Whether any of the timbers counts as hardwood: then all of the dust does
    lead
        Whether there may be lead in it, for which only the class that lets least through does
    room, volume_m3
        Where it is sanded, and how large that is
    catalogue
        Limits and classes
    """
    limits = sorted(
        (limit for limit in catalogue.dust_limits.values() if hardwood or limit.timbers == "all"),
        key=lambda limit: limit.limit_mg_m3,
    )
    strictest = limits[0].limit_mg_m3
    classes = sorted(catalogue.dust_classes.values(), key=lambda dust_class: -dust_class.least_limit_mg_m3)
    fit = [
        dust_class
        for dust_class in classes
        if strictest > dust_class.least_limit_mg_m3
        or (dust_class.at_limit and strictest == dust_class.least_limit_mg_m3)
    ]
    chosen = classes[-1] if lead else fit[0]
    return DustReport(
        dust_g=dust_g,
        room=room,
        volume_m3=volume_m3,
        limits=tuple(
            DustLimitLine(
                limit.jurisdiction,
                limit.limit_mg_m3,
                None if volume_m3 is None else limit.limit_mg_m3 * volume_m3 / 1000,
                limit.basis,
            )
            for limit in limits
        ),
        extractor=chosen.title,
        passes_pct=chosen.passes_pct,
        extractor_source=chosen.basis,
    )
