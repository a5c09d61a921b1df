"""Sanding: a matrix of faces and grits for parts that are sanded alike, a box for every piece; and the order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from markupsafe import Markup

from finplan.catalogue import is_cami
from finplan.drawing import reduced
from finplan.listing import counted, listed, some
from finplan.planning import Plan, PlannedPiece
from finplan.quantity import Range, Units
from finplan.sanding import GroupSanding, OrderStep, grits_of
from finplan.showing import capital
from finplan.spans import show_usual_work, show_work
from finplan.telling import (
    OfItem,
    marked_name,
    names_together,
    order_sentence,
    part_work_words,
    sequence_words,
    usual_grits,
)

DRAWING_MM = 43.0
"""How wide a drawing stands beside its matrix, so that five grits have room there and a page holds five cards."""
MOST_BOXES = 8
"""Pieces of a part that have a box each in every cell of the matrix; of more it is counted."""
MOST_DRAWN = 2
"""Parts that share a card and are all drawn on it; of more, the first."""
MOST_TOGETHER = 30
"""No more parts than this share a card: it has to fit on a page."""
_MANY = 6
_LETTERS = 140
"""No more names and letters than these are read at a glance."""


@dataclass(frozen=True, slots=True)
class GritHead:
    """A column of the matrix."""

    grit: str
    other: str
    """The grade of the other scale, where the shop buys by numbers without a P."""


TOGETHER = 4
"""Boxes that make a line of a cell."""


@dataclass(frozen=True, slots=True)
class GritCell:
    """What one grit takes on some faces, of all pieces of the part together."""

    grit: str
    time: str
    boxes: tuple[str, ...]
    """What each box to tick is of, one for a piece; none where they stand apart or are too many."""

    @property
    def together(self) -> bool:
        """Whether its boxes stay on one line."""
        return len(self.boxes) <= TOGETHER


@dataclass(frozen=True, slots=True)
class CardRow:
    """Faces that are sanded alike."""

    faces: str
    method: str
    cells: tuple[GritCell | None, ...]
    """By column; none where that grit is not used."""
    stop: str
    """With which grit it ends, where that is not the one with which the part does."""
    note: str
    """Where the grades at hand do not reach."""


@dataclass(frozen=True, slots=True)
class CardNote:
    """What to mind on some faces."""

    faces: str
    note: str


@dataclass(frozen=True, slots=True)
class PartTicks:
    """The boxes of one part of several on a card."""

    part: str
    grits: tuple[GritCell, ...]


@dataclass(frozen=True, slots=True)
class SandingCard:
    """The card of parts that are sanded alike."""

    part: str
    """The part, or all of them."""
    shape: str
    work: str
    """How long all of it takes, and one piece."""
    sequence: str
    """The grits in a sentence, with what is otherwise."""
    grits: tuple[GritHead, ...]
    rows: tuple[CardRow, ...]
    notes: tuple[CardNote, ...]
    """Of its rows; faces of which the same is to be minded share one."""
    handling: str
    """How long picking them up and turning them takes, which is in no grit's time."""
    count: int
    """The pieces of it, where there are too many for a box each; else none."""
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
    everywhere: str
    """What is said of all faces of all its parts."""
    buy: str
    """Grades that the shop lacks."""
    cards: tuple[SandingCard, ...]


def sanding_pages(plan: Plan) -> tuple[SandingPages, ...]:
    """Return what is printed of the sanding of each piece."""
    return tuple(
        SandingPages(
            piece=marked_name(piece.name, piece, plan) if len(plan.pieces) > 1 else "",
            everywhere=_sentences(_everywhere(piece)),
            buy=", ".join(piece.sanding.buy),
            cards=sanding_cards(piece, plan.units),
        )
        for piece in plan.pieces
    )


def sanding_cards(piece: PlannedPiece, units: Units) -> tuple[SandingCard, ...]:
    """Return the cards of a piece, in the order of the file; parts that are sanded alike share one."""
    by_part: dict[str, list[GroupSanding]] = {}
    for sanded in piece.sanding.groups_of_one:
        by_part.setdefault(sanded.group.part, []).append(sanded)
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
    rows = _rows([groups], (), piece, units)
    without = (
        replace(row, cells=tuple(cell and replace(cell, time="", boxes=()) for cell in row.cells)) for row in rows
    )
    return (groups[0].group.shape, *without)


def _card(parts: Sequence[Sequence[GroupSanding]], piece: PlannedPiece, units: Units) -> SandingCard:
    names = [groups[0].group.part for groups in parts]
    called = [counted(name, groups[0].group.count) for name, groups in zip(names, parts, strict=True)]
    drawn = names if len(names) <= MOST_DRAWN else names[:1]
    alike, pieces = piece.surface.alike, sum(groups[0].group.count for groups in parts)
    each = f", for each of the {alike} pieces" if alike > 1 else ""
    apart = len(parts) * alike > 1
    boxes = () if apart or pieces > MOST_BOXES else _of(names[0], pieces)
    rows = _rows(parts, boxes, piece, units)
    return SandingCard(
        part=f"{some(called, _MANY, _LETTERS)}{each}",
        shape=parts[0][0].group.shape,
        work=part_work_words([sanded for groups in parts for sanded in groups], pieces),
        sequence=sequence_words(parts[0]),
        grits=_heads(parts[0], piece, units),
        rows=rows,
        notes=_notes(rows),
        handling=show_work(Range.total(piece.sanding.handling_of(name) for name in names)),
        count=0 if apart or boxes else pieces,
        ticks=tuple(
            PartTicks(told, tuple(GritCell(grit, "", tuple(_of(told, count))) for grit in grits_of(groups)))
            for name, groups in zip(names, parts, strict=True)
            for count in (groups[0].group.count if groups[0].group.count <= MOST_BOXES else 1,)
            for told in (_in_set(name, groups, piece) if len(parts) * alike <= MOST_TOGETHER else (name,))
        )
        if apart
        else (),
        drawn_parts=tuple(drawn),
        drawings=tuple(_drawing(piece, name) for name in drawn),
        drawn=""
        if len(drawn) == len(names)
        else f"Drawn: {names[0]}. The others are of the same shape; their drawings stand in the appendix.",
    )


def _drawing(piece: PlannedPiece, name: str) -> Markup:
    return Markup(reduced(piece.drawings[name], DRAWING_MM))  # noqa: S704 - made by us; names are escaped in it


def _of(name: str, pieces: int) -> tuple[str, ...]:
    """Return what each box of a part is of."""
    return (name,) if pieces == 1 else tuple(f"{name} {number} of {pieces}" for number in range(1, pieces + 1))


def _in_set(name: str, groups: Sequence[GroupSanding], piece: PlannedPiece) -> Sequence[str]:
    """Return the name of a part for each of a set of alike pieces; its own where the piece is none."""
    part = groups[0].group.part
    of = [treatment for treatment in piece.treatments if part in treatment.parts and treatment.number]
    told = (treatment.item if treatment.loose else f"{name} of {treatment.item}" for treatment in of)
    return list(dict.fromkeys(told)) or [name]


def _heads(groups: Sequence[GroupSanding], piece: PlannedPiece, units: Units) -> tuple[GritHead, ...]:
    """Return the columns: every grit of a part, coarse first."""
    numbered = any(is_cami(grit) for grit in piece.sanding.stock.at_hand) or units == "us"
    others = {step.grit: step.other_scale for sanded in groups for step in sanded.steps}
    return tuple(GritHead(grit, others[grit] if numbered else "") for grit in grits_of(groups))


def _rows(
    parts: Sequence[Sequence[GroupSanding]], boxes: Sequence[str], piece: PlannedPiece, units: Units
) -> tuple[CardRow, ...]:
    """Return the rows of the matrix of parts that are sanded alike, with the times of all of them."""
    heads = [head.grit for head in _heads(parts[0], piece, units)]
    usual = usual_grits(parts[0])[-1]
    return tuple(_row(alike, heads, usual, boxes, piece) for alike in zip(*parts, strict=True))


def _row(
    alike: Sequence[GroupSanding], heads: Sequence[str], usual: str, boxes: Sequence[str], piece: PlannedPiece
) -> CardRow:
    """Return one row for the same faces of all its parts."""
    first, catalogue = alike[0], piece.source.catalogue
    board = f" ({first.group.board})" if first.group.board else ""
    faces, method = f"{listed(first.group.faces)}{board}", first.steps[0].method
    cells = {
        same[0].grit: GritCell(
            same[0].grit,
            show_usual_work(Range.total(step.hours for step in same)),
            tuple(f"{box}, {faces}, {same[0].grit}" for box in boxes),
        )
        for same in zip(*(sanded.steps for sanded in alike), strict=True)
    }
    last = first.steps[-1].grit
    return CardRow(
        faces=faces,
        method=catalogue.sanding_methods[method].title.partition(",")[0].lower(),
        cells=tuple(cells.get(grit) for grit in heads),
        stop="" if last == usual else f"stop at {last}",
        note=_sentences([note for note in first.notes if note not in _everywhere(piece)]),
    )


def _notes(rows: Sequence[CardRow]) -> tuple[CardNote, ...]:
    by_note: dict[str, list[str]] = {}
    for row in rows:
        if row.note:
            by_note.setdefault(row.note, []).append(row.faces)
    return tuple(CardNote(listed(faces), note) for note, faces in by_note.items())


def _everywhere(piece: PlannedPiece) -> Sequence[str]:
    """Return the notes that all groups of faces of a piece share."""
    groups = piece.sanding.groups_of_one
    return [note for note in groups[0].notes if all(note in group.notes for group in groups)] if len(groups) > 1 else []


def _sentences(words: Sequence[str]) -> str:
    return " ".join(f"{capital(word).rstrip('.')}." for word in words)


def sanding_order(plan: Plan) -> tuple[OrderLine, ...]:
    """Return the order in which every item is sanded; those of all pieces that have the same one share a line."""
    by_item: dict[tuple[str, int], list[OrderStep]] = {}
    for number, piece in enumerate(plan.pieces):
        for step in piece.sanding.order:
            by_item.setdefault((step.item, number), []).append(step)
    alike: dict[tuple[str, ...], list[OfItem[None]]] = {}
    for (item, number), steps in by_item.items():
        piece = plan.pieces[number]
        of = next((treatment for treatment in piece.treatments if treatment.item == item), None)
        in_set, several = (0, False) if of is None else (of.number, of.of_several)
        named = OfItem(marked_name(item, piece, plan), item, in_set, None, several)
        alike.setdefault(tuple(order_sentence(step) for step in steps), []).append(named)
    return tuple(
        OrderLine(capital(some(names_together(items), _MANY, _LETTERS)), steps) for steps, items in alike.items()
    )
