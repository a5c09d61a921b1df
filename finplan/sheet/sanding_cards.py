"""Sanding cards: one a part, with a box to tick for every grit."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise

from markupsafe import Markup

from finplan.plan import Plan
from finplan.sanding import GroupSanding
from finplan.sheet.words import capital, counted, listed, show_work
from finplan.system import FaceGroup, FaceKind

_LOOK_FOR: dict[FaceKind, str] = {
    "flat": (
        "Scribble over the face with a pencil before each grit and sand until the scribble is gone. Then hold a lamp "
        "low along the face: no swirl and no scratch of the grit before."
    ),
    "profile": (
        "Look along it with a lamp from the side: no flat spots, no scratches across the grain, corners still crisp."
    ),
    "end": "Hold a lamp low across it: no saw marks, no dark scratches, and an even dull sheen.",
}
_LOOK_FOR_TURNING = "Look along it with a lamp from the side: no rings. Sand the last grit along the grain."
_AT_THE_LATHE = f"Stop the lathe. {_LOOK_FOR_TURNING}"
# How a surface is judged before the next grit is common trade practice; no single publication.


@dataclass(frozen=True, slots=True)
class GritBox:
    """One grit, with a box to tick."""

    grit: str
    time: str


@dataclass(frozen=True, slots=True)
class CardRow:
    """Faces that are sanded alike."""

    faces: str
    method: str
    grits: tuple[GritBox, ...]
    stop: str
    look_for: str
    note: str


@dataclass(frozen=True, slots=True)
class SandingCard:
    """The card of one part."""

    part: str
    shape: str
    rows: tuple[CardRow, ...]
    drawing_svg: Markup
    """A drawing of the part."""


def sanding_cards(plan: Plan) -> tuple[SandingCard, ...]:
    """Return the cards of a plan, parts in the order of the file."""
    by_part: dict[str, list[GroupSanding]] = {}
    for found in plan.sanding.groups:
        by_part.setdefault(found.group.part, []).append(found)
    return tuple(
        SandingCard(
            part=counted(part, groups[0].group.count),
            shape=groups[0].group.shape,
            rows=_rows(groups, plan),
            drawing_svg=Markup(plan.drawings[part]),  # noqa: S704 - made by us; what the maker wrote is escaped in it
        )
        for part, groups in by_part.items()
    )


def _rows(groups: list[GroupSanding], plan: Plan) -> tuple[CardRow, ...]:
    """Return the rows of a card; what holds for several that follow one another is said once, at the last of them."""
    rows = [_row(found, plan) for found in groups]
    said = [
        replace(
            row,
            look_for="" if row.look_for == after.look_for else row.look_for,
            stop="" if row.stop == after.stop else row.stop,
            note="" if row.note == after.note else row.note,
        )
        for row, after in pairwise(rows)
    ]
    return (*said, *rows[-1:])


def _row(found: GroupSanding, plan: Plan) -> CardRow:
    group = found.group
    method = found.steps[0].method if found.steps else ""
    return CardRow(
        faces=listed(group.faces),
        method=plan.source.catalogue.sanding_methods[method].title if method else "",
        grits=tuple(GritBox(step.grit, show_work(step.hours)) for step in found.steps),
        stop=f"{found.stop_reason}.",
        look_for=_look_for(group, method),
        note=f"{capital(found.note)}." if found.note else "",
    )


def _look_for(group: FaceGroup, method: str) -> str:
    """Return how the surface is judged."""
    if method == "lathe":
        return _AT_THE_LATHE
    return _LOOK_FOR_TURNING if "turning" in group.faces else _LOOK_FOR[group.kind]
