"""The rules of the craft that hold of all that is sanded, each once: how a surface is judged, and why it stops."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from finplan.listing import listed
from finplan.planning import Plan
from finplan.sanding import GroupSanding
from finplan.showing import capital
from finplan.system import FaceKind

_KINDS: dict[FaceKind, tuple[str, str]] = {
    "flat": (
        "Flat faces",
        "Scribble over it with a pencil before each grit: gone before the next. Lamp low along the face: no swirl, no "
        "scratch of the grit before. Wipe with solvent or a damp cloth before the last: glue shows.",
    ),
    "profile": (
        "Edges and profiles",
        "Lamp from the side: no flat spots, no scratches across the grain, corners still crisp.",
    ),
    "end": ("End grain", "Lamp low across it: no saw marks, no dark scratches, an even dull sheen."),
}
_TURNED = "Lamp from the side: no rings. Sand the last grit along the grain."
_VENEER = "Take the machine off as soon as the pencil is gone; no block on the edges."
# How a surface is judged before the next grit is common trade practice; no single publication.


@dataclass(frozen=True, slots=True)
class GritRule:
    """What holds of a kind of face, wherever in the plan it is."""

    of: str
    words: str


def sanding_rules(plan: Plan) -> tuple[GritRule, ...]:
    """Return what is to be known of the faces that are sanded, each once."""
    groups = [sanded for piece in plan.pieces for sanded in piece.sanding.groups_of_one]
    return tuple(dict.fromkeys((*_judged(groups), *_hints(groups, plan))))


def stop_reasons(plan: Plan) -> tuple[str, ...]:
    """Return why sanding stops where it does, each reason once, with all grits of which it is given."""
    grits: dict[str, dict[str, None]] = {}
    for sanded in (group for piece in plan.pieces for group in piece.sanding.groups_of_one):
        grits.setdefault(sanded.stop_reason.removeprefix(sanded.stop_wanted), {})[sanded.stop_wanted] = None
    return tuple(f"{listed(stops)}{reason}." for reason, stops in grits.items())


def _judged(groups: Sequence[GroupSanding]) -> Iterator[GritRule]:
    """Give how each kind of face is judged, in the order of the kinds."""
    at_lathe = any(sanded.steps[0].method == "lathe" for sanded in groups)
    turned = [sanded for sanded in groups if sanded.steps[0].method == "lathe" or "turning" in sanded.group.faces]
    kinds = {sanded.group.kind for sanded in groups if sanded not in turned}
    yield from (GritRule(*words) for kind, words in _KINDS.items() if kind in kinds)
    if turned:
        yield GritRule("Turned", f"Stop the lathe. {_TURNED}" if at_lathe else _TURNED)
    if any(sanded.group.veneer_mm for sanded in groups):
        yield GritRule("Veneer", _VENEER)


def _hints(groups: Sequence[GroupSanding], plan: Plan) -> Iterator[GritRule]:
    for sanded in groups:
        title = plan.catalogue.surfaces[sanded.group.surface].title
        if sanded.hints:
            yield GritRule(title, " ".join(f"{capital(hint).rstrip('.')}." for hint in sanded.hints))
