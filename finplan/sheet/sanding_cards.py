"""Sanding cards: one for parts that are sanded alike, with a box to tick for every grit; and the order before them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from markupsafe import Markup

from finplan.catalogue import is_cami
from finplan.listing import counted, listed, some
from finplan.planning import Plan, PlannedPiece
from finplan.quantity import Range, Units
from finplan.sanding import GroupSanding, OrderStep, grits_of
from finplan.showing import capital
from finplan.spans import show_work
from finplan.system import FaceGroup, FaceKind
from finplan.telling import STAGES, marked

_LOOK_FOR: dict[FaceKind, str] = {
    "flat": (
        "Scribble over it with a pencil before each grit: gone before the next. Lamp low along the face: no swirl, no "
        "scratch of the grit before. Wipe with solvent or a damp cloth before the last: glue shows."
    ),
    "profile": "Lamp from the side: no flat spots, no scratches across the grain, corners still crisp.",
    "end": "Lamp low across it: no saw marks, no dark scratches, an even dull sheen.",
}
_LOOK_FOR_TURNING = "Lamp from the side: no rings. Sand the last grit along the grain."
_AT_THE_LATHE = f"Stop the lathe. {_LOOK_FOR_TURNING}"
_OTHERS = "The others are of the same shape; their drawings stand in the appendix."
_VENEER = "Veneer: take the machine off as soon as the pencil is gone; no block on the edges."
# How a surface is judged before the next grit is common trade practice; no single publication.

MOST_DRAWN = 2
"""Parts that share a card and are all drawn on it; of more, the first."""
MOST_TOGETHER = 30
"""No more parts than this share a card: it has to fit on a page."""
_MANY = 6
_LETTERS = 140
"""No more names and letters than these are read at a glance."""


@dataclass(frozen=True, slots=True)
class GritBox:
    """One grit, with a box to tick."""

    grit: str
    other: str
    """The grade of the other scale, where the shop buys by numbers without a P."""
    time: str


@dataclass(frozen=True, slots=True)
class CardRow:
    """Faces that are sanded alike."""

    faces: str
    comes: str
    """How they are taken to come to the bench."""
    method: str
    grits: tuple[GritBox, ...]
    stop: str
    look_for: str
    note: str
    """Where the grades at hand do not reach."""
    hint: str
    """What to know of a surface that comes so."""


@dataclass(frozen=True, slots=True)
class PartTicks:
    """The boxes of one part of several on a card."""

    part: str
    grits: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SandingCard:
    """The card of parts that are sanded alike."""

    part: str
    """The part, or all of them."""
    shape: str
    rows: tuple[CardRow, ...]
    handling: str
    """How long picking them up and turning them takes, which is in no grit's time."""
    ticks: tuple[PartTicks, ...]
    """By part, where there are several; then a tick is for all faces of one."""
    drawn_parts: tuple[str, ...]
    drawings: tuple[Markup, ...]
    drawn: str
    """What is drawn, where it is not all of them."""


@dataclass(frozen=True, slots=True)
class OrderLine:
    """In which order items are sanded."""

    items: str
    steps: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SandingPages:
    """All that is printed of the sanding of one piece."""

    piece: str
    """With its mark; empty where there is one piece only."""
    order: tuple[OrderLine, ...]
    buy: str
    """Grades that the shop lacks."""
    cards: tuple[SandingCard, ...]


def sanding_pages(plan: Plan) -> tuple[SandingPages, ...]:
    """Return what is printed of the sanding of each piece."""
    return tuple(
        SandingPages(
            piece=marked(piece.name, piece, plan) if len(plan.pieces) > 1 else "",
            order=_order(piece),
            buy=", ".join(piece.sanding.buy),
            cards=sanding_cards(piece, plan.units),
        )
        for piece in plan.pieces
    )


def sanding_cards(piece: PlannedPiece, units: Units) -> tuple[SandingCard, ...]:
    """Return the cards of a piece, in the order of the file; parts that are sanded alike share one."""
    by_part: dict[str, list[GroupSanding]] = {}
    for found in piece.sanding.groups_of_one:
        by_part.setdefault(found.group.part, []).append(found)
    alike: dict[tuple[object, ...], list[str]] = {}
    for part, groups in by_part.items():
        alike.setdefault(_said(groups, piece, units), []).append(part)
    return tuple(
        _card([by_part[part] for part in parts[at : at + MOST_TOGETHER]], piece, units)
        for parts in alike.values()
        for at in range(0, len(parts), MOST_TOGETHER)
    )


def _said(groups: Sequence[GroupSanding], piece: PlannedPiece, units: Units) -> tuple[object, ...]:
    """Return all that a card says of a part but its times and its drawing."""
    rows = (_row([found], piece, units) for found in groups)
    without = (replace(row, grits=tuple(replace(box, time="") for box in row.grits)) for row in rows)
    return (groups[0].group.shape, *without)


def _card(parts: Sequence[Sequence[GroupSanding]], piece: PlannedPiece, units: Units) -> SandingCard:
    names = [groups[0].group.part for groups in parts]
    called = [counted(name, groups[0].group.count) for name, groups in zip(names, parts, strict=True)]
    drawn = names if len(names) <= MOST_DRAWN else names[:1]
    alike = piece.surface.alike
    each = f", for each of the {alike} pieces" if alike > 1 else ""
    return SandingCard(
        part=f"{some(called, _MANY, _LETTERS)}{each}",
        shape=parts[0][0].group.shape,
        rows=_rows([_row(found, piece, units) for found in zip(*parts, strict=True)]),
        handling=show_work(Range.total(piece.sanding.handling_of(name) for name in names)),
        ticks=tuple(
            PartTicks(told, grits_of(groups))
            for name, groups in zip(called, parts, strict=True)
            for told in (_in_set(name, groups, piece) if len(parts) * alike <= MOST_TOGETHER else (name,))
        )
        if len(parts) * alike > 1
        else (),
        drawn_parts=tuple(drawn),
        drawings=tuple(Markup(piece.drawings[name]) for name in drawn),  # noqa: S704 - made by us; names are escaped in it
        drawn=""
        if len(drawn) == len(names)
        else f"Drawn: {names[0]}. The others are of the same shape; their drawings stand in the appendix.",
    )


def _in_set(name: str, groups: Sequence[GroupSanding], piece: PlannedPiece) -> Sequence[str]:
    """Return the name of a part for each of a set of alike pieces; its own where the piece is none."""
    part = groups[0].group.part
    of = [one for one in piece.treatments if part in one.parts and one.number]
    told = (one.item if one.loose else f"{name} of {one.item}" for one in of)
    return list(dict.fromkeys(told)) or [name]


def _rows(rows: Sequence[CardRow]) -> tuple[CardRow, ...]:
    """Return the rows of a card; what holds for several of them is said once, at the first."""
    told: set[str] = set()

    def once(words: str) -> str:
        if words in told:
            return ""
        told.add(words)
        return words

    return tuple(
        replace(row, look_for=once(row.look_for), stop=once(row.stop), note=once(row.note), hint=once(row.hint))
        for row in rows
    )


def _row(alike: Sequence[GroupSanding], piece: PlannedPiece, units: Units) -> CardRow:
    """Return one row of a card for the same faces of all its parts."""
    found = alike[0]
    method = found.steps[0].method
    catalogue = piece.source.catalogue
    numbered = any(is_cami(grit) for grit in piece.sanding.stock.at_hand)
    steps = zip(*(one.steps for one in alike), strict=True)
    return CardRow(
        faces=listed(found.group.faces),
        comes=catalogue.surfaces[found.group.surface].title.lower(),
        method=catalogue.sanding_methods[method].title.partition(",")[0].lower(),
        grits=tuple(
            GritBox(
                same[0].grit,
                same[0].other_scale if numbered or units == "us" else "",
                show_work(Range.total(step.hours for step in same)),
            )
            for same in steps
        ),
        stop=f"{found.stop_reason}.",
        look_for=_look_for(found.group, method),
        note=_sentences(found.notes),
        hint=_sentences(found.hints),
    )


def _sentences(words: Sequence[str]) -> str:
    return " ".join(f"{capital(one).rstrip('.')}." for one in words)


def _look_for(group: FaceGroup, method: str) -> str:
    """Return how the surface is judged."""
    if method == "lathe":
        return _AT_THE_LATHE
    usual = _LOOK_FOR_TURNING if "turning" in group.faces else _LOOK_FOR[group.kind]
    return f"{_VENEER} {usual}" if group.veneer_mm else usual


def _order(piece: PlannedPiece) -> tuple[OrderLine, ...]:
    """Return the order of every item; items that are sanded in the same one share a line."""
    by_item: dict[str, list[OrderStep]] = {}
    for step in piece.sanding.order:
        by_item.setdefault(step.item, []).append(step)
    alike: dict[tuple[str, ...], list[str]] = {}
    for item, steps in by_item.items():
        alike.setdefault(tuple(_worded(step, item) for step in steps), []).append(item)
    return tuple(OrderLine(capital(some(items, _MANY, _LETTERS)), said) for said, items in alike.items())


def _worded(step: OrderStep, item: str) -> str:
    """Return a step of the order as a sentence, with its faces where they are few and its reason."""
    stage = STAGES[step.stage]
    faces = [name.removeprefix(f"{item}: ") for name in step.faces]
    named = f" ({listed(faces)})" if step.do == "mask" else ""
    label = f"sand the {step.joints} joints" if step.joints > 1 else step.label
    return capital(f"{f'{stage}, ' if stage else ''}{label}{named}: {step.reason}.")
