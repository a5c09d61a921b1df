"""What of a treatment does not go together: coat over coat, and coat on timber, by the rules of the catalogue."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from finplan.catalogue import Catalogue, Compatibility, finish_called, is_called, system_called, timber_called
from finplan.inputs import Piece
from finplan.problems import Finding, Where
from finplan.showing import show_duration
from finplan.system.treatment import CoatStep, FaceGroup, Treatment, TreatmentStep

_Names = tuple[str, str, str]
"""Rule, finish on top, finish or timber below."""


@dataclass(frozen=True, slots=True)
class Mismatch:
    """One rule that a treatment breaks on one group of faces; all but the group are names in the catalogue."""

    rule: str
    over: str
    below: str
    """The finish or the timber that it meets."""
    group: FaceGroup


def compatibility_findings(piece: Piece, treatments: Iterable[Treatment], catalogue: Catalogue) -> list[Finding]:
    """Return what does not go together, each thing once: errors for what fails, warnings for what risks.

    Parameters
    ----------
    piece
        The piece, in whose file the choices were made; paths start at the top of that file
    treatments
        What its items get
    catalogue
        Where finishes, timbers and rules are
    """
    findings: dict[Finding, None] = {}
    for treatment, mismatch in _mismatches_of(piece, treatments, catalogue):
        rule = catalogue.compatibility[mismatch.rule]
        for path in _choices(piece, treatment, mismatch):
            findings[_finding(path, mismatch, rule, catalogue)] = None
    return list(findings)


def own_system_risks(piece: Piece, treatments: Iterable[Treatment], catalogue: Catalogue) -> bool:
    """Return whether the system of the piece itself may fail on any of it; what has one of its own is not counted.

    Parameters
    ----------
    piece, treatments, catalogue
        As of ``compatibility_findings``
    """
    told = _mismatches_of(piece, treatments, catalogue)
    return any(not _own_systems(piece, treatment, mismatch) for treatment, mismatch in told)


def _mismatches_of(
    piece: Piece, treatments: Iterable[Treatment], catalogue: Catalogue
) -> Iterator[tuple[Treatment, Mismatch]]:
    for treatment in treatments:
        for mismatch in mismatches(treatment, catalogue):
            if piece.keep and mismatch.below == mismatch.group.timber:  # no wood is bare under an old film that stays
                continue
            yield treatment, mismatch


def mismatches(treatment: Treatment, catalogue: Catalogue) -> Iterator[Mismatch]:
    """Give every rule that a treatment breaks, group by group, from the wood up."""
    known: dict[tuple[str, tuple[str, ...]], list[_Names]] = {}
    for group in treatment.groups:
        steps = tuple(step for step in treatment.steps if group in step.groups)
        alike = (group.timber, tuple(step.id for step in steps))
        if alike not in known:
            known[alike] = list(_layers(treatment.system, group.timber, steps, catalogue))
        yield from (Mismatch(rule, over, below, group) for rule, over, below in known[alike])


def _layers(system: str, timber: str, steps: tuple[TreatmentStep, ...], catalogue: Catalogue) -> Iterator[_Names]:
    """Give every mismatch in one pile of coats."""
    for position, step in enumerate(steps):
        if not isinstance(step, CoatStep):
            continue
        before = steps[:position]
        met = _met(before, catalogue)
        called = finish_called(step.finish, catalogue.finishes[step.finish])
        bare = not any(catalogue.finishes[coat.finish].film_forming for coat in met)
        for name, rule in catalogue.compatibility.items():
            if not is_called(rule.over, called) or not _holds(rule, system, before, catalogue):
                continue
            for coat in met:
                if rule.under and _coats_mismatch(rule, coat, before, catalogue):
                    yield name, step.finish, coat.finish
            if rule.on and bare and _timber_mismatches(rule, timber, system, catalogue):
                yield name, step.finish, timber


def _met(before: tuple[TreatmentStep, ...], catalogue: Catalogue) -> list[CoatStep]:
    """Return the coats that the next one meets: from the last one down to the first film."""
    met: list[CoatStep] = []
    for step in reversed(before):
        if isinstance(step, CoatStep):
            met.append(step)
            if catalogue.finishes[step.finish].film_forming:
                break
    return met


def _holds(rule: Compatibility, system: str, before: tuple[TreatmentStep, ...], catalogue: Catalogue) -> bool:
    """Return whether a rule holds in such a system, after these steps."""
    return system_called(catalogue.systems[system]) >= set(rule.systems) and all(
        step.do != rule.unless_step for step in before
    )


def _coats_mismatch(
    rule: Compatibility, under: CoatStep, before: tuple[TreatmentStep, ...], catalogue: Catalogue
) -> bool:
    name = under.finish
    finish = catalogue.finishes[name]
    if not is_called(rule.under, finish_called(name, finish)):
        return False
    # A coat is recoated after its typical time, and rubbed out when it has cured.
    cure_h = (finish.cure_h or finish.recoat_h).typical
    rubbed = any(step.do == "rub-out" for step in before[before.index(under) :])
    hardened_h = cure_h if rubbed else finish.recoat_h.typical
    if rule.after_h is not None and hardened_h >= rule.after_h.typical:
        return False
    return not (rule.after_cure and hardened_h >= cure_h)


def _timber_mismatches(rule: Compatibility, name: str, system: str, catalogue: Catalogue) -> bool:
    timber = catalogue.timbers[name]
    if not is_called(rule.on, timber_called(name, timber)):
        return False
    if rule.finer_than is None:
        return True
    sizes_um = catalogue.grades["p-grade"].sizes_um
    stop = catalogue.systems[system].stop_grit.of(timber.stop_class)
    return sizes_um[stop] < sizes_um[rule.finer_than]


def _choices(piece: Piece, treatment: Treatment, mismatch: Mismatch) -> list[Where]:
    """Return where in the file the choice was made: the system, or the timber where only that is the part's own."""
    own = _own_systems(piece, treatment, mismatch)
    of_part = any(path[0] == "parts" for path in own)
    own_timber = piece.parts[mismatch.group.part].timber is not None and mismatch.below == mismatch.group.timber
    if own_timber and not of_part:
        return [("parts", mismatch.group.part, "timber")]
    return own or [("system",)]


def _own_systems(piece: Piece, treatment: Treatment, mismatch: Mismatch) -> list[Where]:
    """Return where faces, part or assembly are given a system of their own; none where it is that of the piece."""
    name = mismatch.group.part
    part = piece.parts[name]
    of_faces = {face: part.faces[face].system for face in mismatch.group.faces if face in part.faces}
    faces = [face for face, system in of_faces.items() if system == treatment.system]
    if faces:
        return [("parts", name, "faces", face, "system") for face in faces]
    if part.system is not None:
        return [("parts", name, "system")]
    assembly = piece.assemblies.get(treatment.named)
    return [("assemblies", treatment.named, "system")] if assembly is not None and assembly.system is not None else []


def _finding(path: Where, mismatch: Mismatch, rule: Compatibility, catalogue: Catalogue) -> Finding:
    where = "over" if rule.under else "on"
    return Finding(
        path,
        f"{_said(mismatch.over)} {where} {_said(mismatch.below)}: {rule.reason}",
        "; or ".join([rule.remedy, *_ways_round(rule, catalogue)]),
        "error" if rule.verdict == "refuse" else "warning",
        name="" if rule.verdict == "refuse" else mismatch.rule,
    )


def _ways_round(rule: Compatibility, catalogue: Catalogue) -> list[str]:
    ways: list[str] = []
    if rule.tie_coat:
        tie = catalogue.finishes[rule.tie_coat].title.lower()
        ways.append(f"put {tie} between" if rule.under else f"seal the wood with {tie} first")
    if rule.after_h:
        ways.append(f"let the coat under it harden for {show_duration(rule.after_h.typical)}")
    if rule.after_cure:
        ways.append("let the coat under it cure")
    return ways


def _said(name: str) -> str:
    """Return the name of a record as words: what the file says, without the dashes.

    >>> _said("white-oak")
    'white oak'
    """
    return name.replace("-", " ")
