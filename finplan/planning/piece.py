"""One piece and what is done to it, stage by stage: each stage is reckoned when it is first asked for, and once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from html import escape
from typing import TYPE_CHECKING, Any, TypeVar

from finplan.figures import checked
from finplan.learning import NO_TIMES, Times
from finplan.planning.source import Source
from finplan.problems import FindingsError, Problem, RefusedError
from finplan.sanding import SandingPlan, in_kept_grades, sanding_findings, sanding_plan
from finplan.surface import PieceSurface
from finplan.system import (
    CoatRepair,
    ExtraWork,
    Treatment,
    all_extra_work,
    compatibility_findings,
    heat_on_veneer,
    mended,
    missing_choices,
    not_handed_over,
    not_on_lead,
    over_kept_film,
    own_system_risks,
    piece_key,
    too_many_coats,
    treatments,
    under_nothing,
    without_effect,
)

if TYPE_CHECKING:
    from finplan.timetable import Operation

T = TypeVar("T")


def with_stages(staged: T, **stages: Any) -> T:
    """Return a copy with stages given instead of reckoned; those that were reckoned already stay as they are.

    Parameters
    ----------
    staged
        A ``PlannedPiece`` or a ``Plan``
    stages
        Stages by their names
    """
    copied: T = object.__new__(type(staged))
    vars(copied).update(vars(staged), **stages)
    return copied


@dataclass(frozen=True, eq=False, repr=False)
class PlannedPiece:
    """One piece and what is done to it.

    Every stage may raise ``RefusedError``: a part lacks a timber or a system, the shop lacks a method, two things do
    not go together, or a face cannot be sanded as the file asks; it carries every problem of the piece.
    """

    source: Source
    name: str
    """As the rows of the timetable name it: that of its file, told apart where two have the same."""
    called: str = ""
    """What several pieces are told apart by, the name of its file; empty where there is one piece only."""
    sample: bool = False
    """Whether it is the sample board of another piece."""
    times: Times = NO_TIMES
    """What the shop has learnt of how long work takes and how slowly coats dry."""
    repairs: tuple[CoatRepair, ...] = ()
    """What of its coats went wrong and is mended, by the record."""

    @property
    def key(self) -> str:
        """What all ids of the piece begin with; empty where there is one piece only."""
        return piece_key(self.called) if self.called else ""

    @cached_property
    def surface(self) -> PieceSurface:
        """The faces of every part: areas in m², exposure, end grain."""
        return checked(self.source.surface, f"the surface of {self.source.piece.name}")

    @cached_property
    def unrolled(self) -> tuple[Treatment, ...]:
        """What every item gets, with what mends its coats, before it is asked whether that goes together."""
        if not self.repairs:
            return self.by_recipe
        return self._in_kept_grades(mended(self.by_recipe, self.repairs, self.source.catalogue))

    @cached_property
    def by_recipe(self) -> tuple[Treatment, ...]:
        """What every item gets by its system alone: what may go on what is asked of that."""
        source = self.source
        try:
            recipe = treatments(source.piece, self.surface, source.catalogue, source.shop.methods, self.key)
        except FindingsError as error:
            raise source.refused(error) from None
        return self._in_kept_grades(recipe)

    def _in_kept_grades(self, recipe: tuple[Treatment, ...]) -> tuple[Treatment, ...]:
        return in_kept_grades(recipe, self.source.shop, self.source.catalogue)

    @cached_property
    def clashes(self) -> tuple[Problem, ...]:
        """What does not go together, and what risks to fail."""
        return _clashes(self.source, self.by_recipe)

    @cached_property
    def refusals(self) -> tuple[Problem, ...]:
        """What keeps the piece from being planned: errors of what goes on what, and what cannot be sanded so."""
        errors = [problem for problem in self.clashes if problem.severity == "error"]
        return tuple(sorted((*errors, *_not_sanded(self.source, self._sanded))))

    @property
    def possible(self) -> bool:
        """Whether the piece can be finished so."""
        try:
            return not self.refusals
        except RefusedError:
            return False

    @property
    def risks(self) -> tuple[Problem, ...]:
        """The warnings about what goes on what."""
        return tuple(problem for problem in self.clashes if problem.severity == "warning")

    @property
    def own_system_risks(self) -> bool:
        """Whether its own system may fail on any of it; what a part is given of its own is not counted."""
        return own_system_risks(self.source.piece, self.by_recipe, self.source.catalogue)

    @cached_property
    def treatments(self) -> tuple[Treatment, ...]:
        """What every item gets, in the order in which it gets it."""
        self._refuse()
        return self.unrolled

    @cached_property
    def sanding(self) -> SandingPlan:
        """How every group of faces is sanded: grits, hours, abrasives, dust in g."""
        self._refuse()
        return checked(self._sanded, "the sanding")

    @cached_property
    def extras(self) -> tuple[ExtraWork, ...]:
        """The steps beside its coats, on its items and on the whole."""
        return tuple(all_extra_work(self.source.piece, self.treatments, self.source.catalogue))

    @cached_property
    def operations(self) -> tuple[Operation, ...]:
        """The work on the piece, as the timetable has it: as long as it takes in this shop."""
        return tuple(operation.at_pace(self.times) for operation in self.reckoned_operations)

    @cached_property
    def reckoned_operations(self) -> tuple[Operation, ...]:
        """The same, as long as it takes by the catalogue alone."""
        from finplan.timetable import operations

        shop = self.source.shop
        sanders = [person for person in shop.people if "sanding" in person.skills]
        shifts = [shift.length_min for sander in sanders for day in sander.hours for shift in day]
        longest_h = max(shifts, default=24 * 60) / 60
        reckoned = operations(self.source.piece, self.treatments, self.sanding, self.source.catalogue, longest_h)
        return tuple(replace(operation, ready_as="handle") for operation in reckoned) if self.sample else reckoned

    @cached_property
    def drawings(self) -> Mapping[str, str]:
        """The drawing of every part, as SVG, by the part's name."""
        from finplan.drawing import piece_drawings

        return piece_drawings(self.source.piece, self.source.units)

    def __repr__(self) -> str:
        return f"<{type(self).__name__} {self.name!r}>"

    def _repr_html_(self) -> str:
        """Return the drawings for a notebook, each below the name of its part and how many there are."""
        counts = {part.part: part.count for part in self.surface.parts}
        drawn = "".join(
            f"<figure style='margin:0'><figcaption><b>{escape(name)}</b>"
            f"{f' × {counts[name]}' if counts[name] > 1 else ''}</figcaption>{drawing}</figure>"
            for name, drawing in self.drawings.items()
        )
        return f"<div style='display:flex;flex-wrap:wrap;gap:1em'>{drawn}</div>"

    @property
    def clashes_anywhere(self) -> tuple[Problem, ...]:
        """All that does not go together, risks to fail or cannot be sanded so, whatever else the shop can do.

        Parts for which no timber or no system is named yet are left out.
        """
        source, piece = self.source, self.source.piece
        lacking = {finding.path for finding in missing_choices(piece)}
        chosen = replace(
            piece, parts={name: part for name, part in piece.parts.items() if ("parts", name) not in lacking}
        )
        every_way = tuple(source.catalogue.methods)
        recipe = self._in_kept_grades(treatments(chosen, self.surface, source.catalogue, every_way))
        here = not lacking and self._is_unrolled_as(recipe)
        sanded = self._sanded if here else sanding_plan(recipe, self.surface, source.catalogue, source.shop)
        return tuple(sorted((*_clashes(source, recipe), *_not_sanded(source, sanded))))

    def _is_unrolled_as(self, recipe: tuple[Treatment, ...]) -> bool:
        """Return whether the shop as it is does these very treatments, so that nothing of them is reckoned twice."""
        try:
            return recipe == self.unrolled
        except RefusedError:
            return False

    @cached_property
    def _sanded(self) -> SandingPlan:
        return sanding_plan(self.unrolled, self.surface, self.source.catalogue, self.source.shop)

    def _refuse(self) -> None:
        if self.refusals:
            raise RefusedError(self.refusals)

    def under(self, source: Source) -> PlannedPiece:
        """Return the piece of the same sizes under another system, or in a shop of other methods."""
        return with_stages(replace(self, source=source), surface=self.surface)

    def treated(self, given: tuple[Treatment, ...]) -> PlannedPiece:
        """Return the piece with other treatments than its files give it; nothing of them is refused."""
        return with_stages(replace(self), surface=self.surface, by_recipe=given, unrolled=given, refusals=())


def _clashes(source: Source, recipe: Sequence[Treatment]) -> tuple[Problem, ...]:
    together = compatibility_findings(source.piece, recipe, source.catalogue)
    beside = [*not_on_lead(recipe, source.catalogue), *not_handed_over(source.piece, recipe, source.catalogue)]
    kept = [*over_kept_film(source.piece, recipe, source.catalogue)]
    kept += heat_on_veneer(recipe, source.catalogue)
    kept += without_effect(source.piece, recipe, source.catalogue)
    kept += under_nothing(recipe, source.catalogue)
    return source.located([*together, *too_many_coats(recipe, source.catalogue), *beside, *kept])


def _not_sanded(source: Source, plan: SandingPlan) -> tuple[Problem, ...]:
    return source.located(sanding_findings(source.piece, plan, source.catalogue))
