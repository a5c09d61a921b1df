"""One grit on one group of faces: how long it takes, what it uses up and what dust it makes."""

from __future__ import annotations

from dataclasses import dataclass

from finplan.catalogue import Catalogue, SandingMethod, is_cami, on_other_scale
from finplan.inputs import Shop
from finplan.quantity import Range
from finplan.sanding.cutting import independent_quotient, removal_g_min
from finplan.sanding.stock import Stock
from finplan.system import FaceGroup

NO_DUST = Range(0.0, 0.0, 0.0)
_MINUTES_PER_H = 60.0
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
    """Return the way of sanding bare wood: a turning on the lathe, what is flat and has room by machine, else by hand.

    Of several machines the first that the shop names and that finds room is taken.
    """
    if _SPINS.intersection(group.faces):
        lathe = _first(shop, catalogue, "lathe", group)
        if lathe is not None:
            return lathe
    machine = _first(shop, catalogue, "machine", group) if group.kind == "flat" else None
    return machine or _first(shop, catalogue, "hand") or BY_HAND


def method_between(grit: str, shop: Shop, catalogue: Catalogue) -> str:
    """Return the way of abrading a coat by hand: with a pad that cuts as *grit*, else with paper."""
    for name in shop.methods:
        method = catalogue.sanding_methods.get(name)
        if method is not None and method.bare_wood is None and grit in catalogue.abrasives[method.abrasive].cuts_as:
            return name
    return _first(shop, catalogue, "hand") or BY_HAND


def without_machines(shop: Shop, catalogue: Catalogue) -> Shop:
    """Return a shop with what is done by hand alone."""
    ways = catalogue.sanding_methods
    by_hand = tuple(name for name in shop.methods if name not in ways or ways[name].by == "hand")
    return shop.model_copy(update={"methods": by_hand})


def _first(shop: Shop, catalogue: Catalogue, by: str, group: FaceGroup | None = None) -> str | None:
    """Return the first way of sanding bare wood that the shop has of a sort, and that goes where the faces are."""
    ways = {name: catalogue.sanding_methods[name] for name in shop.methods if name in catalogue.sanding_methods}
    room, hollow_mm = (None, None) if group is None else (group.inside, group.hollow_mm)
    return next(
        (
            name
            for name, way in ways.items()
            if way.by == by
            and way.bare_wood is not None
            and (room is None or way.fits_inside(room.width_mm, room.clear_mm))
            and (hollow_mm is None or way.follows(hollow_mm))
        ),
        None,
    )


def bare_step(
    group: FaceGroup, grit: str, *, method: str, off_g: Range, stock: Stock, catalogue: Catalogue
) -> SandingStep:
    """Return one grit on bare wood, without picking the parts up.

    Parameters
    ----------
    group
        The faces
    grit
        The grade
    method
        The way of sanding
    off_g
        What has to come off. [g]
    stock, catalogue
        The grades and the records

    Notes
    -----
    It takes as long as passing over all of it, or as cutting off what has to come off, whichever is more; end grain is
    slower in both. Paper is used up by cutting, ``used = time of cutting / life``, and more on resinous timber.

    Raises
    ------
    ValueError
        The way of sanding only dulls coats
    """
    way, rules = catalogue.sanding_methods[method], catalogue.sanding_rules["usual"]
    bare, timber = way.bare_wood, catalogue.timbers[group.timber]
    if bare is None:
        msg = f"{way.title} is not for bare wood"
        raise ValueError(msg)
    speed = (bare.profile_m2_h if group.kind == "profile" else None) or bare.flat_m2_h
    sizes_um = stock.sizes_um[grit], stock.sizes_um[rules.cutting.grit]
    rate = removal_g_min(bare, *sizes_um, timber.specific_gravity, rules)
    if group.kind == "end":
        slower = bare.end_grain
        speed = Range(speed.low * slower.low, speed.typical * slower.typical, speed.high * slower.high)
        rate = rate.scaled(slower.typical)
    passing_h = Range.time_for(group.area_m2, speed)
    cutting_h = independent_quotient(off_g, rate.scaled(_MINUTES_PER_H))
    wear = rules.resin_wear if timber.resinous else 1.0
    return _step(
        grit,
        method,
        way,
        stock,
        hours=passing_h.greater(cutting_h),
        used=independent_quotient(cutting_h, bare.life_h).scaled(wear),
        dust_g=off_g,
    )


def scuff_step(
    group: FaceGroup, grit: str, *, method: str, handled: int, stock: Stock, catalogue: Catalogue
) -> SandingStep:
    """Return abrading a coat on a group of faces, for which so many parts are picked up and turned.

    Notes
    -----
    ``hours = area / speed + handling``; ``used = area × use per m²``. The dust of a film is not wood, is little, and is
    left out.
    """
    way = catalogue.sanding_methods[method]
    speed = (way.scuff_profile_m2_h if group.kind == "profile" else None) or way.scuff_flat_m2_h
    return _step(
        grit,
        method,
        way,
        stock,
        hours=Range.time_for(group.area_m2, speed).plus(way.handling_h.scaled(handled)),
        used=way.scuff_use_per_m2.scaled(group.area_m2),
        dust_g=NO_DUST,
    )


def _step(
    grit: str, method: str, way: SandingMethod, stock: Stock, *, hours: Range, used: Range, dust_g: Range
) -> SandingStep:
    return SandingStep(
        grit=grit,
        other_scale=on_other_scale(grit, stock.sizes_um),
        size_um=stock.sizes_um[grit],
        method=method,
        hours=hours,
        product=way.product,
        abrasive=way.abrasive,
        used=used,
        dust_g=dust_g,
    )
