"""How much one coat of one item needs: area, what the wood drinks, spread rate or film, and what the tool keeps."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from finplan.catalogue import Catalogue
from finplan.material.absorption import absorption
from finplan.material.cause import Cause, Term, cause, median
from finplan.material.film import Film, planned_film
from finplan.material.going_on import GoingOn, going_on
from finplan.material.learnt import NO_LESSONS, Lessons
from finplan.material.total import total
from finplan.quantity import NOTHING, Range
from finplan.system import CoatStep, FaceGroup


@dataclass(frozen=True, slots=True)
class GroupNeed:
    """The liquid that one coat on one group of faces needs, thinner included. Volumes in ml."""

    group: FaceGroup
    terms_ml: tuple[Term, ...]
    """Along the grain and across it, each with what makes it uncertain."""

    @property
    def needed_ml(self) -> Range:
        """All of it."""
        return total(self.terms_ml).range


@dataclass(frozen=True, slots=True)
class CoatNeed:
    """What one coat of one item needs, tool losses included. Volumes in ml, area in m², time in h."""

    piece: str
    item: str
    step: CoatStep
    finish: str
    area_m2: float
    groups: tuple[GroupNeed, ...]
    share: float
    """Of what stays in tool and pot, where other items get the same coat from them."""
    fixed_ml: Range
    """What stays in the tool and the pot."""
    fixed_terms_ml: tuple[Term, ...]
    """The same with what makes it uncertain."""
    wet_ml: Range
    """The liquid as it goes on, thinner included."""
    needed_ml: Range
    """The finish in it."""
    thinner_ml: Range
    film: Film | None
    """Where the coat is planned by its thickness."""
    hours: Range
    """How long it is being put on."""
    board_of: str | None = None
    """On a sample board, the system that is tried on it; on a piece None."""
    several: bool = False
    """Whether its item is several alike parts of one piece of a set, all coated as one."""

    @property
    def number(self) -> int:
        """Of which of a set of alike pieces the item is, counted from 1; 0 where the piece is none."""
        return self.groups[0].group.number if self.groups else 0

    @property
    def finish_terms_ml(self) -> tuple[Term, ...]:
        """The finish, with what makes it uncertain."""
        share = 1 / (1 + self.step.recipe.thin_pct / 100)
        return tuple(term.scaled(share) for term in self.wet_terms_ml)

    @property
    def thinner_terms_ml(self) -> tuple[Term, ...]:
        """The thinner, likewise."""
        thin = self.step.recipe.thin_pct / 100
        return tuple(term.scaled(thin / (1 + thin)) for term in self.wet_terms_ml) if thin else ()

    @property
    def wet_terms_ml(self) -> tuple[Term, ...]:
        """The liquid as it goes on: each group of faces, and what the tool keeps."""
        return (*(term for group in self.groups for term in group.terms_ml), *self.fixed_terms_ml)


def coat_need(
    item: str,
    step: CoatStep,
    catalogue: Catalogue,
    *,
    share: float = 1.0,
    last_grits: Mapping[FaceGroup, str] | None = None,
    piece: str = "",
    hours: Range = NOTHING,
    also: tuple[Cause, ...] = (),
    lessons: Lessons = NO_LESSONS,
) -> CoatNeed:
    """Return what a coat needs.

    Parameters
    ----------
    item
        What is coated as one
    step
        The coat, with its finish and method
    catalogue
        Where finish, method and absorption are
    share
        The item's share of what stays in tool and pot, where others get the same coat from them. 0 to 1
    last_grits
        The last grade with which bare wood was sanded
    piece
        The piece that the item belongs to
    hours
        How long the coat is being put on. [h]
    also
        What else makes it uncertain
    lessons
        What the shop has learnt of its amounts

    Notes
    -----
    Per group ``area · absorption · wet film``, where absorption is that of the timber's pores, raised on the share of
    end grain and by a coarse last grade, and the wet film what the spread rate makes by this method. A coat that is
    planned by its film has that wet film instead: on bare wood what soaks in comes on top of it, on later coats the
    absorption is that of a sealed face. Then ``/ transfer efficiency`` where it is sprayed and ``/ (1 - loss)`` for
    what the tool keeps in proportion, and a fixed loss for each coat, which items that get it together share by their
    areas. That is liquid as it goes on: where the coat is thinned, the finish is ``1 / (1 + p)`` of it and the thinner
    the rest, p being thinner by volume of the finish.

    Typical is everything as it typically is; low and high are the 5th and 95th percentile of what the causes, each of
    them once, make together.
    """
    method = catalogue.methods[step.method]
    laid = going_on(step, catalogue)
    coat = cause("coat", (piece, item, step.id), method.coat_to_coat)
    groups = tuple(
        GroupNeed(
            group,
            lessons.of(
                step.finish,
                tuple(_terms(group, laid, step, catalogue, (piece, item), last_grits or {}, coat + also)),
            ),
        )
        for group in step.groups
    )
    in_tool = cause("hand", (step.finish, step.method, "tool"), method.fixed_loss_ml)
    fixed_ml = method.fixed_loss_ml.scaled(share)
    fixed = lessons.of(step.finish, (Term(median(fixed_ml), in_tool),) if fixed_ml.high else ())
    wet = [term for group in groups for term in group.terms_ml] + list(fixed)
    wet_ml = total(wet).range
    thinner = step.recipe.thin_pct / 100
    return CoatNeed(
        piece=piece,
        item=item,
        step=step,
        finish=step.finish,
        area_m2=step.area_m2,
        groups=groups,
        share=share,
        fixed_ml=fixed_ml,
        fixed_terms_ml=fixed,
        wet_ml=wet_ml,
        needed_ml=wet_ml.scaled(1 / (1 + thinner)),
        thinner_ml=wet_ml.scaled(thinner / (1 + thinner)),
        film=planned_film(step, catalogue.finishes[step.finish]),
        hours=hours,
    )


def _terms(
    group: FaceGroup,
    laid: GoingOn,
    step: CoatStep,
    catalogue: Catalogue,
    wood: tuple[str, str],
    last_grits: Mapping[FaceGroup, str],
    also: tuple[Cause, ...],
) -> Iterator[Term]:
    """Yield what a coat on a group of faces takes, along the grain and on its ends. [ml]"""
    finish = catalogue.finishes[step.finish]
    bare = step.bare and group not in step.sealed
    drinks = absorption(group, finish, catalogue, bare=bare, last_grit=last_grits.get(group))
    graded = cause("wood", (*wood, "grade"), drinks.grade)
    for area_m2, factor, of in ((drinks.along_m2, drinks.pores, "pores"), (drinks.end_m2, drinks.ends, "ends")):
        if area_m2 > 0:
            soaked = cause("wood", (*wood, of), factor)
            amount_ml = area_m2 * factor.typical * drinks.grade.typical * laid.ml_m2
            yield Term(amount_ml, laid.causes + soaked + graded + also)
