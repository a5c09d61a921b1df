"""One grit on one group of faces: how long it takes, what it uses up and what dust it makes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from finplan.catalogue import Catalogue, SandingMethod, is_cami, on_other_scale
from finplan.inputs import Shop
from finplan.quantity import Range
from finplan.sanding.stock import Stock
from finplan.system import FaceGroup

Work = Literal["first", "later", "scuff"]
NO_DUST = Range(0.0, 0.0, 0.0)
BY_HAND = "hand"
"""Every shop has this."""
_SPINS = frozenset({"turning", "shoulders"})
"""Faces that are sanded while they turn."""


@dataclass(frozen=True, slots=True)
class SandingStep:
    """One grit on one group of faces. Sizes in µm, times in h, dust in g."""

    grit: str
    other_scale: str
    """The grade of the other scale that is nearest in size: CAMI of a P-grade, P-grade of CAMI."""
    size_um: float
    method: str
    hours: Range
    product: str
    abrasive: str
    """The record of the product."""
    used: Range
    """Discs, sheets or strips."""
    dust_g: Range

    @property
    def p_grade(self) -> str:
        """The grade, or of a CAMI grade the P-grade nearest in size."""
        return self.other_scale if is_cami(self.grit) else self.grit


def method_of(group: FaceGroup, shop: Shop, catalogue: Catalogue) -> str:
    """Return the way of sanding bare wood: a turning on the lathe, by machine where it is flat, else by hand."""
    if _SPINS.intersection(group.faces):
        lathe = _first(shop, catalogue, "lathe")
        if lathe is not None:
            return lathe
    machine = _first(shop, catalogue, "machine") if group.kind == "flat" else None
    return machine or _first(shop, catalogue, "hand") or BY_HAND


def method_between(grit: str, shop: Shop, catalogue: Catalogue) -> str:
    """Return the way of abrading a coat by hand: with a pad that cuts as *grit*, else with paper."""
    for name in shop.methods:
        method = catalogue.sanding_methods.get(name)
        if method is not None and method.between_coats_only and grit in catalogue.abrasives[method.abrasive].cuts_as:
            return name
    return _first(shop, catalogue, "hand") or BY_HAND


def _first(shop: Shop, catalogue: Catalogue, by: str) -> str | None:
    """Return the first way of sanding bare wood that the shop has of a sort."""
    ways = {name: catalogue.sanding_methods[name] for name in shop.methods if name in catalogue.sanding_methods}
    return next((name for name, way in ways.items() if way.by == by and not way.between_coats_only), None)


def sanding_step(
    group: FaceGroup,
    grit: str,
    work: Work,
    *,
    method: str,
    handled: int,
    dust_g: Range,
    stock: Stock,
    catalogue: Catalogue,
) -> SandingStep:
    """Return one grit on a group.

    Parameters
    ----------
    group
        The faces
    grit
        The grade
    work
        Whether it is the first grit, which levels, a later one, or abrading between coats
    method
        The way of sanding
    handled
        How many parts are picked up and turned for it
    dust_g
        What it makes. [g]
    stock, catalogue
        The grades and the records

    Notes
    -----
    ``hours = area / speed + handling``; ``used = area × use per m²``, more on resinous timber and less on veneer.
    """
    way = catalogue.sanding_methods[method]
    hours = Range.time_for(group.area_m2, _speed(way, group, work)).plus(way.handling_h.scaled(handled))
    return SandingStep(
        grit=grit,
        other_scale=on_other_scale(grit, stock.sizes_um),
        size_um=stock.sizes_um[grit],
        method=method,
        hours=hours,
        product=way.product,
        abrasive=way.abrasive,
        used=_use_per_m2(way, grit, work, stock).scaled(group.area_m2 * _wear(group, work, catalogue)),
        dust_g=dust_g,
    )


def _speed(method: SandingMethod, group: FaceGroup, work: Work) -> Range:
    """Return the speed on a group: profiles and turnings are slower, and so is end grain. [m²/h]"""
    if work == "scuff":
        return (method.scuff_profile_m2_h if group.kind == "profile" else None) or method.scuff_flat_m2_h
    flat = method.first_m2_h if work == "first" else method.later_m2_h
    if group.kind == "profile":
        return method.profile_m2_h or flat
    if group.kind == "end":
        slower = method.end_grain
        return Range(flat.low * slower.low, flat.typical * slower.typical, flat.high * slower.high)
    return flat


def _use_per_m2(method: SandingMethod, grit: str, work: Work, stock: Stock) -> Range:
    if work == "first":
        return method.use.levelling_per_m2
    size_um = stock.sizes_um[grit] * stock.as_good
    if work == "scuff" or size_um < stock.sizes_um["P240"]:
        return method.use.scuff_per_m2
    return method.use.medium_per_m2 if size_um >= stock.sizes_um["P150"] else method.use.fine_per_m2


def _wear(group: FaceGroup, work: Work, catalogue: Catalogue) -> float:
    """Return how much is used up on bare wood, against hardwood."""
    wear = catalogue.sanding_rules["usual"].wear
    if work == "scuff":
        return 1.0
    of_timber = wear.resinous if catalogue.timbers[group.timber].resinous else 1.0
    return of_timber * (wear.veneer if group.veneer_mm else 1.0)
