"""Where sanding bare wood stops, and why."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from finplan.catalogue import Catalogue, SandingRules, StopClass, finish_called, is_called, timber_called
from finplan.system import FaceGroup, Treatment

_SAID: Mapping[StopClass, str] = {
    "open": "open-pored timber",
    "closed": "close-grained timber",
    "softwood": "a softwood",
    "oily": "an oily timber",
}


@dataclass(frozen=True, slots=True)
class Finest:
    """The finest grade that what is put on bare wood tolerates, and why."""

    grit: str
    reason: str


@dataclass(frozen=True, slots=True)
class Stop:
    """The last grit wanted, and the reason in words that begin with it."""

    grit: str
    reason: str


def finest_tolerated(treatment: Treatment, group: FaceGroup, catalogue: Catalogue) -> Finest | None:
    """Return the finest grade for a group of faces, by the rules of what goes on what; None where none is too fine.

    What meets the wood is every coat down to the first film.
    """
    sizes_um = catalogue.grades["p-grade"].sizes_um
    timber = timber_called(group.timber, catalogue.timbers[group.timber])
    tolerated: list[Finest] = []
    for step in treatment.steps:
        if step.finish is None or group not in step.groups:
            continue
        finish = catalogue.finishes[step.finish]
        called = finish_called(step.finish, finish)
        for rule in catalogue.compatibility.values():
            if rule.finer_than and is_called(rule.over, called) and is_called(rule.on, timber):
                tolerated.append(Finest(rule.finer_than, rule.reason))
        if finish.film_forming:
            break
    return max(tolerated, key=lambda finest: sizes_um[finest.grit], default=None)


def wanted_stop(
    treatment: Treatment, group: FaceGroup, catalogue: Catalogue, sizes_um: Mapping[str, float], finest: Finest | None
) -> Stop:
    """Return the last grit for a group of faces, whatever is at hand.

    Parameters
    ----------
    treatment, group
        What goes on the faces
    catalogue
        Systems, timbers and rules
    sizes_um
        Mean grain size of every grade. [µm]
    finest
        The finest grade that what is put on tolerates

    Notes
    -----
    What the file names is taken as it is. Else the system and the timber say it; faces that are not looked at stop some
    grades of the ladder sooner, end grain some grades later, but nothing goes finer than is tolerated.
    """
    if group.stop_grit is not None:
        return Stop(group.stop_grit, f"{group.stop_grit}, as the piece file says")
    rules = catalogue.sanding_rules["usual"]
    system, timber = catalogue.systems[treatment.system], catalogue.timbers[group.timber]
    grit = system.stop_grit.of(timber.stop_class)
    reason = f"{grit} for {_SAID[timber.stop_class]} under {system.title.lower()}"
    whose = "the faces"
    if group.exposure == "secondary":
        sooner = _sooner(grit, rules, sizes_um)
        if sooner != grit:
            reason = f"{sooner}, sooner than the {grit} of the faces that are looked at"
            grit, whose = sooner, "faces that are not looked at"
    if group.kind == "end" and system.end_grain_steps:
        finer = _along(rules.ladder, grit, system.end_grain_steps, sizes_um)
        if finest is not None and sizes_um[finer] < sizes_um[finest.grit]:
            finer = finest.grit if sizes_um[finest.grit] <= sizes_um[grit] else grit
        if finer != grit:
            reason = f"{finer}, finer than the {grit} of {whose}, so that end grain drinks and darkens less"
            grit = finer
    if finest is not None and sizes_um[grit] < sizes_um[finest.grit]:
        return Stop(finest.grit, f"{finest.grit} and no finer, or {finest.reason}")
    if finest is not None and grit == finest.grit:
        reason += f"; no finer, or {finest.reason}"
    return Stop(grit, reason)


def _sooner(grit: str, rules: SandingRules, sizes_um: Mapping[str, float]) -> str:
    """Return the grade some steps of the ladder before *grit*, but not too coarse a one."""
    coarser = [grade for grade in rules.ladder if sizes_um[grade] > sizes_um[grit]][::-1]
    if not rules.hidden.sooner or not coarser:
        return grit
    sooner = coarser[min(rules.hidden.sooner, len(coarser)) - 1]
    if sizes_um[sooner] <= sizes_um[rules.hidden.not_coarser]:
        return sooner
    return rules.hidden.not_coarser if sizes_um[rules.hidden.not_coarser] > sizes_um[grit] else grit


def _along(ladder: Sequence[str], grit: str, steps: int, sizes_um: Mapping[str, float]) -> str:
    """Return the grade so many steps of the ladder finer than *grit*.

    >>> sizes = {"P180": 82.0, "P220": 68.0, "P240": 58.5}
    >>> _along(("P180", "P220", "P240"), "P180", 1, sizes), _along(("P180", "P220", "P240"), "P180", 2, sizes)
    ('P220', 'P240')
    """
    finer = [grade for grade in ladder if sizes_um[grade] < sizes_um[grit]]
    return finer[min(steps, len(finer)) - 1] if finer else grit
