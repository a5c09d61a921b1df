"""The recipe of a system unrolled for a piece: which steps, on which faces, by which method of this shop."""

from __future__ import annotations

from dataclasses import replace

from finplan.catalogue import Catalogue, Step, System
from finplan.inputs import Piece
from finplan.problems import Finding, FindingsError
from finplan.surface import PieceSurface
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
    found: list[Treatment] = []
    for item, parts in piece.items().items():
        by_system: dict[str, list[FaceGroup]] = {}
        for part in parts:
            for system, groups in face_groups(piece, surfaces[part], _system_of(piece, item, part)).items():
                by_system.setdefault(system or "", []).extend(groups)
        for system_name, groups in by_system.items():
            try:
                recipes = catalogue.systems[system_name]
                steps = _steps(item_stem(key, item, 0), system_name, recipes, tuple(groups), catalogue, methods)
            except FindingsError as error:
                findings += error.findings
                continue
            old = old_paint(item, groups, piece, catalogue)
            found.append(Treatment(item, parts, system_name, tuple(groups), steps, key, old, piece.lead_test))
    if findings:
        raise FindingsError(dict.fromkeys(findings))
    if piece.alike == 1:
        return tuple(found)
    return tuple(treatment.in_set(number) for number in range(1, piece.alike + 1) for treatment in found)


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
    system: System,
    groups: tuple[FaceGroup, ...],
    catalogue: Catalogue,
    methods: tuple[str, ...],
) -> tuple[TreatmentStep, ...]:
    steps: list[TreatmentStep] = []
    coats = 0
    bare = True
    for index, recipe in enumerate(system.steps):
        if recipe.do == "fill" and not any(catalogue.timbers[group.timber].filler_for_flat for group in groups):
            continue
        if recipe.do == "coat":
            coats += 1
        step = TreatmentStep(
            id=step_id(of_item, name, index + 1),
            do=recipe.do,
            label=_label(recipe, coats),
            recipe=recipe,
            coat=coats if recipe.do == "coat" else None,
            finish=None,
            method=None,
            bare=bare and recipe.do in ("coat", "fill"),
            groups=tuple(group for group in groups if _gets(group, recipe, coats, catalogue)),
            position=index + 1,
        )
        if recipe.finish is not None:
            method = _method(name, index, recipe, recipe.finish, catalogue, methods)
            step = coat_step(step, recipe.finish, method)
        if recipe.do in ("coat", "fill"):
            bare = False
        steps.append(step)
    return _trimmed(tuple(step for step in steps if step.groups))


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


def _label(recipe: Step, coats: int) -> str:
    if recipe.do == "coat":
        return f"coat {coats}"
    if recipe.do in ("abrade", "rub-out"):
        return f"{recipe.do.replace('-', ' ')} {recipe.grit}"
    return {"sand": "sand bare wood", "raise-grain": "raise the grain", "fill": "fill the pores"}[recipe.do]


def _method(name: str, index: int, recipe: Step, finish: str, catalogue: Catalogue, methods: tuple[str, ...]) -> str:
    """Return the first way of putting a finish on that the system, the finish and the shop allow."""
    allowed = recipe.methods or catalogue.finishes[finish].methods
    chosen = next((method for method in allowed if method in methods), None)
    if chosen is None:
        wrong = f"system '{name}' puts '{finish}' on by {' or '.join(allowed)}, which the shop does not have"
        raise FindingsError([Finding(("system",), wrong, "choose another system, or add the method to the shop file")])
    return chosen
