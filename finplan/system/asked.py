"""Which steps beside the coats the items of a piece get: those of its file, its timber and its refinishing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from finplan.catalogue import Catalogue, ExtraStep, Phase, Step
from finplan.inputs import STRIPS, AskedStep, Piece
from finplan.system.treatment import FaceGroup

_Whose = Literal["part", "item", "timber"]
CLEAN = "clean-film"
"""The step with which an old coating that is kept is cleaned: a name in the catalogue's extra-steps."""
HAND = "hand"
"""The way of sanding whose grade dulls an old coating: a name in the catalogue's sanding-methods."""


@dataclass(frozen=True, slots=True)
class Extra:
    """A step beside the coats on some faces of an item."""

    name: str
    record: ExtraStep
    count: int | None
    groups: tuple[FaceGroup, ...]


@dataclass(frozen=True, slots=True)
class RecipeStep:
    """A step of a recipe as it is unrolled: of the system, or one that was asked for beside it."""

    recipe: Step
    name: str
    """The last part of its id."""
    extra: Extra | None = None
    """What it was asked for as; None of the system's own."""


def extras_of(piece: Piece, item: str, groups: Sequence[FaceGroup], opaque: bool, catalogue: Catalogue) -> list[Extra]:
    """Return the steps beside the coats that faces of an item get, each once, in the order in which they are asked for.

    Parameters
    ----------
    piece, item
        The piece, and which of its items it is
    groups
        Faces that get the same system
    opaque
        Whether that is paint
    catalogue
        Where the steps are, and what timbers ask for
    """
    extras: dict[str, Extra] = {}
    for part in dict.fromkeys(group.part for group in groups):
        of_part = [group for group in groups if group.part == part]
        said = list(_asked(piece, item, part, of_part, catalogue))
        for_all = {asked.name for asked, whose in said if whose != "timber"}
        for asked, whose in said:
            record = catalogue.extra_steps[asked.name]
            on = tuple(
                group
                for group in of_part
                if group.kind in record.on
                and (asked.name in for_all or asked.name in catalogue.timbers[group.timber].wants)
            )
            if not on or (record.opaque_only and not opaque):
                continue
            had = extras.get(asked.name)
            if had is None:
                extras[asked.name] = Extra(asked.name, record, asked.count, on)
            else:
                count = had.count + asked.count if whose == "part" and had.count and asked.count else had.count
                extras[asked.name] = replace(had, groups=had.groups + on, count=count)
    return list(extras.values())


def _asked(
    piece: Piece, item: str, part: str, groups: Sequence[FaceGroup], catalogue: Catalogue
) -> Iterator[tuple[AskedStep, _Whose]]:
    """Give what a part gets, and whose that is: the part's own, its timber's, or what others get as well.

    What is stripped or cleaned comes first, then what its file says, then what its timber wants. What is done to the
    whole piece at last is done to a part where the file says it of that.
    """
    refinished = [CLEAN] if piece.keep else [f"{STRIPS}{piece.strip}"] if piece.strip else []
    # Under an old film that stays no wood is bare.
    wanted = [] if piece.keep else [name for group in groups for name in catalogue.timbers[group.timber].wants]
    own, timbers = piece.parts[part], [AskedStep(name) for name in dict.fromkeys(wanted)]
    assembly = piece.assemblies.get(item)
    for of_part, of_assembly, of_piece in (
        (own.before, assembly and assembly.before, piece.before),
        (own.after, assembly and assembly.after, piece.after),
    ):
        of_items = [step for step in of_piece if catalogue.extra_steps[step.name].when != "together"]
        said: Sequence[AskedStep] = of_items
        if of_part is not None or of_assembly is not None:
            said = of_part if of_part is not None else of_assembly or ()
        whose: _Whose = "part" if said is of_part else "item"
        listed: list[tuple[AskedStep, _Whose]] = [(AskedStep(name), "item") for name in refinished]
        listed += [(step, whose) for step in said]
        listed += [(timber, "timber") for timber in timbers]
        for asked, of in listed:
            yield asked, of
            for name in _following(asked.name, catalogue):
                yield AskedStep(name), of
        refinished, timbers = [], []


def _following(name: str, catalogue: Catalogue, seen: frozenset[str] = frozenset()) -> Iterator[str]:
    """Give what always comes next to a step, and next to that."""
    for after in catalogue.extra_steps[name].then:
        if after not in seen:
            yield after
            yield from _following(after, catalogue, seen | {name, after})


def kept_film(steps: Sequence[Step], catalogue: Catalogue) -> list[RecipeStep]:
    """Return what of a system an old coating gets that is kept: it is dulled, and its last coat goes on once more.

    Parameters
    ----------
    steps
        Of the system
    catalogue
        Where the grade is for dulling where the system abrades nothing before its last coat
    """
    own = [RecipeStep(step, str(position)) for position, step in enumerate(steps, start=1)]
    last = max(index for index, step in enumerate(steps) if step.finish is not None)
    dulled = [step for step in own[:last] if step.recipe.do == "abrade"][-1:]
    by_hand = Step(do="abrade", grit=catalogue.sanding_methods[HAND].scuff_grit)
    return [*(dulled or [RecipeStep(by_hand, "dull")]), *own[last:]]


def with_extras(own: Sequence[RecipeStep], extras: Iterable[Extra]) -> list[RecipeStep]:
    """Return the steps of a system with those beside them where they belong.

    Parameters
    ----------
    own
        Of the system
    extras
        In the order in which they are asked for; within their part of the work they keep it
    """
    steps = [step.recipe for step in own]
    by_phase: dict[Phase, list[RecipeStep]] = {}
    for extra in extras:
        by_phase.setdefault(extra.record.when, []).extend(_unrolled(extra, steps))
    coats = next((index for index, step in enumerate(steps) if step.finish is not None), len(steps))
    return [
        *by_phase.get("as-found", ()),
        *own[:coats],
        *by_phase.get("sanded", ()),
        *own[coats:],
        *by_phase.get("coated", ()),
        *by_phase.get("together", ()),
    ]


def _unrolled(extra: Extra, steps: Sequence[Step]) -> Iterator[RecipeStep]:
    """Give what a step beside the coats is; nothing where the system does the same by itself."""
    recipe = extra.record.steps
    if not recipe:
        yield RecipeStep(Step(do="extra", extra=extra.name), extra.name, extra)
        return
    if any((known.do, known.finish) == (recipe[0].do, recipe[0].finish) for known in steps):
        return
    for number, step in enumerate(recipe, start=1):
        yield RecipeStep(step, extra.name if number == 1 else f"{extra.name}-{number}", extra)
