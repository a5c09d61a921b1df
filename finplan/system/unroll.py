"""The recipe of a system unrolled for a piece: which steps, on which faces, by which method of this shop."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from finplan.catalogue import Catalogue, Step
from finplan.inputs import Piece
from finplan.problems import Finding, FindingsError
from finplan.surface import PieceSurface
from finplan.system.asked import Extra, RecipeStep, extras_of, kept_film, with_extras
from finplan.system.faces import face_groups
from finplan.system.ids import item_stem, step_id
from finplan.system.old_paint import old_paint
from finplan.system.treatment import FaceGroup, Treatment, TreatmentStep, coat_step


def treatments(
    piece: Piece, surface: PieceSurface, catalogue: Catalogue, methods: tuple[str, ...], key: str = ""
) -> tuple[Treatment, ...]:
    """Return what every item of the piece gets, items in the order of the file; of a set one piece after another.

    Parameters
    ----------
    piece, surface
        The piece and its faces
    catalogue
        Where the systems are
    methods
        The ways of putting a finish on that the shop has
    key
        Goes before the ids of the steps, where there are several pieces

    Raises
    ------
    FindingsError
        A part has no timber or no system, or the shop has no method that a step allows.
    """
    surfaces = {part.part: part for part in surface.parts}
    findings = missing_choices(piece)
    if findings:
        raise FindingsError(findings)
    unrolled: list[Treatment] = []
    for item, parts in piece.items().items():
        by_system: dict[str, list[FaceGroup]] = {}
        for part in parts:
            for system, groups in face_groups(piece, surfaces[part], _system_of(piece, item, part), catalogue).items():
                by_system.setdefault(system or "", []).extend(groups)
        counted: set[str] = set()
        for system_name, groups in by_system.items():
            try:
                recipe = _recipe(piece, item, system_name, groups, catalogue, counted)
                stem, bare = item_stem(key, item, 0), not piece.keep
                steps = _steps(stem, system_name, recipe, tuple(groups), catalogue, methods, bare=bare)
            except FindingsError as error:
                findings += error.findings
                continue
            old = old_paint(item, groups, piece, catalogue)
            of_item = Treatment(item, parts, system_name, tuple(groups), steps, key, old, piece.lead_test)
            unrolled.append(replace(of_item, glued=piece.refinished))
    if findings:
        raise FindingsError(dict.fromkeys(findings))
    if piece.alike == 1:
        return tuple(unrolled)
    return tuple(treatment.in_set(number) for number in range(1, piece.alike + 1) for treatment in unrolled)


def _recipe(
    piece: Piece, item: str, name: str, groups: Sequence[FaceGroup], catalogue: Catalogue, counted: set[str]
) -> list[RecipeStep]:
    """Return what faces get: the steps of their system, or of an old coating that is kept, with those beside them.

    So many holes as the file says are in all of an item: *counted* names the steps that its other systems have, and
    gets those of this one.
    """
    system = catalogue.systems[name]
    extras = extras_of(piece, item, groups, system.opaque, catalogue)
    extras = [extra for extra in extras if extra.count is None or extra.name not in counted]
    counted |= {extra.name for extra in extras if extra.count is not None}
    if piece.keep:
        own = kept_film(system.steps, catalogue)
    else:
        own = [RecipeStep(step, str(position)) for position, step in enumerate(system.steps, start=1)]
    return with_extras(own, extras)


def _system_of(piece: Piece, item: str, part: str) -> str | None:
    assembly = piece.assemblies.get(item)
    return piece.parts[part].system or (assembly.system if assembly else None) or piece.system


def missing_choices(piece: Piece) -> list[Finding]:
    """Return a finding at every part for which no timber or no system is named."""
    findings: list[Finding] = []
    for item, parts in piece.items().items():
        for part in parts:
            if piece.timber_of(part) is None:
                wrong = "no timber is named for it"
                expected = "give timber: for the piece or the part"
                findings.append(Finding(("parts", part), wrong, expected, name="missing-timber"))
            if _system_of(piece, item, part) is None:
                wrong = "no finishing system is named for it"
                expected = "give system: for the piece, the assembly or the part"
                findings.append(Finding(("parts", part), wrong, expected, name="missing-system"))
    return findings


def _steps(
    of_item: str,
    name: str,
    recipe: Sequence[RecipeStep],
    groups: tuple[FaceGroup, ...],
    catalogue: Catalogue,
    methods: tuple[str, ...],
    *,
    bare: bool,
) -> tuple[TreatmentStep, ...]:
    """Return the steps of a recipe on faces; *bare* is whether they are bare wood before it."""
    steps: list[TreatmentStep] = []
    coats = 0
    sealed: set[FaceGroup] = set() if bare else set(groups)
    unfilled: frozenset[FaceGroup] = frozenset()  # without the filler that the step before puts on
    for asked in recipe:
        step, extra = asked.recipe, asked.extra
        if step.do == "coat":
            coats += 1
        got = [group for group in groups if group not in unfilled] if extra is None else extra.groups
        made = TreatmentStep(
            id=step_id(of_item, name, asked.name),
            do=step.do,
            label=_label(step, coats, extra),
            recipe=step,
            coat=coats if step.do == "coat" else None,
            finish=None,
            method=None,
            bare=False,
            groups=tuple(group for group in got if extra is not None or _gets(group, step, coats, catalogue)),
            name=asked.name,
            count=None if extra is None else extra.count,
        )
        unfilled = frozenset(groups) - set(made.groups) if extra is None and step.do == "fill" else frozenset()
        if not made.groups:
            continue
        if step.finish is not None:
            on = tuple(group for group in made.groups if group in sealed)
            made = replace(made, bare=len(on) < len(made.groups), sealed=on)
            made = coat_step(made, step.finish, _method(name, step, step.finish, catalogue, methods))
            sealed |= set(made.groups)
        steps.append(made)
    return _trimmed(tuple(steps))


def _gets(group: FaceGroup, recipe: Step, coats: int, catalogue: Catalogue) -> bool:
    """Return whether faces get a step: a filler only where the pores want it, a coat while the file allows."""
    if recipe.do == "fill" and not catalogue.timbers[group.timber].filler_for_flat:
        return False
    return group.coats is None or coats <= group.coats


def _trimmed(steps: tuple[TreatmentStep, ...]) -> tuple[TreatmentStep, ...]:
    """Leave out the abrading that no coat follows on a face: a face with fewer coats ends with its last one."""
    kept: list[TreatmentStep] = []
    for position, step in enumerate(steps):
        if step.do != "abrade":
            kept.append(step)
            continue
        later = {group for follower in steps[position + 1 :] if follower.do == "coat" for group in follower.groups}
        groups = tuple(group for group in step.groups if group in later)
        if groups:
            kept.append(replace(step, groups=groups))
    return tuple(kept)


def _label(recipe: Step, coats: int, extra: Extra | None) -> str:
    if recipe.called is not None:
        return recipe.called
    if recipe.do == "extra":
        return extra.record.label if extra is not None else (recipe.extra or "").replace("-", " ")
    if recipe.do == "coat":
        return f"coat {coats}"
    if recipe.do in ("abrade", "rub-out"):
        return f"{recipe.do.replace('-', ' ')} {recipe.grit}"
    return {"sand": "sand bare wood", "raise-grain": "raise the grain", "fill": "fill the pores"}[recipe.do]


def _method(name: str, recipe: Step, finish: str, catalogue: Catalogue, methods: tuple[str, ...]) -> str:
    """Return the first way of putting a finish on that the system, the finish and the shop allow."""
    allowed = recipe.methods or catalogue.finishes[finish].methods
    chosen = next((method for method in allowed if method in methods), None)
    if chosen is None:
        wrong = f"system '{name}' puts '{finish}' on by {' or '.join(allowed)}, which the shop does not have"
        raise FindingsError([Finding(("system",), wrong, "choose another system, or add the method to the shop file")])
    return chosen
