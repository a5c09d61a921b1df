"""How one group of faces is sanded before finishing."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from finplan.catalogue import Catalogue
from finplan.inputs import Shop
from finplan.quantity import Range
from finplan.sanding.cutting import mass_g
from finplan.sanding.depth import budget_mm, depth_mm, removed_mm
from finplan.sanding.progression import Fall, Progression, progression
from finplan.sanding.step import SandingStep, bare_step, method_of
from finplan.sanding.stock import Stock
from finplan.sanding.stop import Finest, Stop, finest_tolerated, wanted_stop
from finplan.system import FaceGroup, Treatment

_P_GRADE = re.compile(r"\bP\d+\b")
NO_TIME = Range(0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Veneer:
    """What a veneered face has to spare. Lengths in mm."""

    thickness_mm: float
    budget_mm: float
    depth_mm: Range
    """How deep sanding reaches."""


@dataclass(frozen=True, slots=True)
class GroupSanding:
    """How one group of faces is sanded before finishing."""

    group: FaceGroup
    steps: tuple[SandingStep, ...]
    """Without picking the parts up."""
    stop_wanted: str
    stop_reason: str
    finest: Finest | None
    """The finest grade that what is put on tolerates."""
    cap: float
    """How many times smaller the grain may become at once."""
    beyond_cap: tuple[Fall, ...]
    """Where it is passed, since the grades at hand leave no other way."""
    mended: tuple[str, ...]
    """The progression with the grades to buy; nothing where none is missing."""
    buy: tuple[str, ...]
    """The grades to buy for it."""
    veneer: Veneer | None
    notes: tuple[str, ...]
    """What to know where the grades at hand do not reach, or the veneer is thin."""
    hints: tuple[str, ...]
    """What to know of a surface that comes so."""
    handling_h: Range = NO_TIME
    """Its share of picking the parts up and turning them, which is a part's, for all its faces and once for a grade."""

    @property
    def note(self) -> str | None:
        """All notes as one."""
        return "; ".join(self.notes) or None

    @property
    def hours(self) -> Range:
        """How long all its grits take, with its share of picking the parts up. [h]"""
        return Range.total(step.hours for step in self.steps).plus(self.handling_h)


_CLEAR = (
    "the piece file says that the old coating was tested and holds no lead: where a layer turns up, stop and test it"
)
_HOLLOW = "a hollow bend: with a soft pad or a block of its curve; a flat one, as a disc, cuts with its rim alone"
_WET = "lead: only wet, by hand, with waterproof paper, and never dry"


def group_sanding(
    treatment: Treatment,
    group: FaceGroup,
    catalogue: Catalogue,
    shop: Shop,
    stock: Stock,
    not_worth: frozenset[str] = frozenset(),
) -> GroupSanding:
    """Return how a group of faces is sanded, without the time for picking parts up.

    Parameters
    ----------
    treatment, group
        The faces and what goes on them
    catalogue, shop, stock
        The records, and what the shop has
    not_worth
        Grades that are wanted for so little that they are not bought
    """
    surface = catalogue.surfaces[group.surface]
    rules, caps = catalogue.sanding_rules["usual"], catalogue.caps["ladder"]
    cap: float = getattr(caps, catalogue.systems[treatment.system].progression)
    finest = finest_tolerated(treatment, group, catalogue)
    start = group.start_grit or surface.start
    stop = _not_back(group, start, wanted_stop(treatment, group, catalogue, stock.sizes_um, finest), stock)
    way = _way(group, start, stop.grit, finest, cap, stock, rules.veneer.coarsest)
    sizes_um = [stock.sizes_um[grit] for grit in way.grits]
    method = method_of(group, shop, catalogue)
    specific_gravity = catalogue.timbers[group.timber].specific_gravity
    removed = removed_mm(surface.remove_mm, sizes_um, caps.scratch_depth)
    steps = tuple(
        bare_step(
            group,
            grit,
            method=method,
            off_g=mass_g(off_mm, group.area_m2, specific_gravity),
            stock=stock,
            catalogue=catalogue,
        )
        for grit, off_mm in zip(way.grits, removed, strict=True)
    )
    veneer = None
    if group.veneer_mm:
        reach = depth_mm(surface.remove_mm, sizes_um, caps.scratch_depth)
        veneer = Veneer(group.veneer_mm, budget_mm(group.veneer_mm, rules), reach)
    mended, buy = _mending(start, stop.grit, way, cap, stock)
    if not_worth.intersection(buy):
        mended, buy = (), ()
    return GroupSanding(
        group=group,
        steps=steps,
        stop_wanted=stop.grit,
        stop_reason=stop.reason,
        finest=finest,
        cap=cap,
        beyond_cap=way.beyond_cap,
        mended=mended,
        buy=buy,
        veneer=veneer,
        notes=(
            *(() if treatment.old_paint is None else (f"{_lead(treatment)} {_WET}",)),
            *((_CLEAR,) if treatment.lead_test == "clear" else ()),
            *((_HOLLOW,) if group.hollow_mm is not None and catalogue.sanding_methods[method].by == "hand" else ()),
            *_too_fine(group, way.grits[-1], finest, stock),
            *_notes(start, stop.grit, way, cap, mended, buy, veneer, stock),
        ),
        hints=tuple(_in_grades_sold(note, stock) for note in surface.notes),
    )


def _in_grades_sold(note: str, stock: Stock) -> str:
    """Return what is to be known of a surface with its grades as the shop can buy them."""
    return _P_GRADE.sub(lambda found: stock.named(found[0]) if found[0] in stock.sizes_um else found[0], note)


def _not_back(group: FaceGroup, start: str, stop: Stop, stock: Stock) -> Stop:
    """Return the stop, but of a hidden face that comes finer than that: the grade with which it comes."""
    if group.exposure != "secondary" or group.stop_grit is not None:
        return stop
    if stock.sizes_um[start] >= stock.sizes_um[stop.grit]:
        return stop
    return Stop(start, f"{start}, since it comes as fine as that")


def _way(
    group: FaceGroup, start: str, stop: str, finest: Finest | None, cap: float, stock: Stock, coarsest: str
) -> Progression:
    """Return the progression with what is at hand; where a surface comes finer than it is to stop, the stop alone."""
    limit = coarsest if group.veneer_mm else None
    last = stock.stop(stop, finest.grit if finest else None, limit)
    first = stock.start(start) if limit is None else stock.start_no_coarser(start, limit)
    at_hand = stock.sizes_at_hand
    if at_hand[first] < at_hand[last] or stock.sizes_um[start] < stock.sizes_um[stop]:
        first = last
    return progression(first, last, at_hand, cap)


def _mending(
    start: str, stop: str, way: Progression, cap: float, stock: Stock
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the progression with the fewest grades to buy, and these, where the way passes the cap or ends elsewhere.

    It may begin with what is at hand, or with the grade that the surface asks for.
    """
    last = stock.like(stop) or stock.named(stop)
    if way.within_cap and last == way.grits[-1]:
        return (), ()
    begins = (way.grits[0], stock.like(start) or stock.named(start))
    tried = [stock.mended(begin, last, cap) for begin in begins if stock.sizes_um[begin] >= stock.sizes_um[last]] or [
        (last,)
    ]
    mended = min(tried, key=lambda grits: (len(stock.to_buy(grits)), len(grits)))
    return mended, stock.to_buy(mended)


def _too_fine(group: FaceGroup, last: str, finest: Finest | None, stock: Stock) -> Iterator[str]:
    """Give a note where all that is at hand is finer than what goes on it tolerates."""
    named = group.stop_grit is not None  # refused elsewhere
    if finest is None or named or stock.sizes_um[last] * stock.as_good >= stock.sizes_um[finest.grit]:
        return
    yield f"nothing at hand is as coarse as {finest.grit}, and with {last} {finest.reason}"


def _notes(
    start: str,
    stop: str,
    way: Progression,
    cap: float,
    mended: tuple[str, ...],
    buy: tuple[str, ...],
    veneer: Veneer | None,
    stock: Stock,
) -> Iterator[str]:
    first, last = way.grits[0], way.grits[-1]
    if stock.sizes_um[start] < stock.sizes_um[stop]:
        yield f"it comes finer than {stop}: one pass is enough"
    elif stock.like(start) != first:
        yield f"{start} is not among the grades at hand: {first} is the first"
    if stock.like(stop) != last and (start != stop or first != last):
        yield f"{stop} is not among the grades at hand: {last} is the nearest"
    for fall in way.beyond_cap:
        fell = f"from {fall.coarse} to {fall.fine} the grain falls by {fall.ratio:.2f} at once"
        yield f"{fell} where {cap:g} is the limit"
    if buy:
        yield f"buy {', '.join(buy)} to mend it: {', '.join(mended)}"
    if veneer is not None and veneer.depth_mm.high > veneer.budget_mm:
        yield (
            f"on a hard block or with long sanding it may reach {veneer.depth_mm.high:.2f} mm into a veneer that has "
            f"{veneer.budget_mm:.2f} mm to spare: use a soft pad"
        )


def grits_of(groups: Iterable[GroupSanding]) -> tuple[str, ...]:
    """Return all grades that groups are sanded with, coarse first."""
    sizes_um = {step.grit: step.size_um for sanded in groups for step in sanded.steps}
    return tuple(sorted(sizes_um, key=lambda grit: -sizes_um[grit]))


def _lead(treatment: Treatment) -> str:
    """Return whether what an item bears holds lead, by a test, or may."""
    return "may hold" if treatment.lead_test is None else "holds"
