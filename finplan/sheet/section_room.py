"""How much room sections take; what takes more than a page begins where it stands, and goes on."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence

from finplan.sheet.buying import Buying, CoatTable, ConsumableRow
from finplan.sheet.cautions import Precaution
from finplan.sheet.room import WIDTH_MM, Letters, PageSize
from finplan.sheet.safety_page import SafetyPage
from finplan.sheet.sanding_cards import TOGETHER, OrderLine, SandingCard, SandingPages
from finplan.telling import GritRule

_TEXT, _SMALL, _AMOUNT = Letters(9.5, 1.15), Letters(8.5, 1.15), Letters(12, 1.15)
_RULE, _ORDER, _CELL, _CARD = Letters(8.3, 1.2), Letters(8.5, 1.2), Letters(8.5, 1.12), Letters(11, 1.15)
_AIR = Letters(8.5, 1.15)
_HEAD_MM, _TITLE_MM = 9.0, 7.6
_POUR_MM, _LABEL_MM, _LONG_LABEL_MM = 50.0, 20.0, 71.0
_LONG = 24
"""Letters of a label from which it stands above its coats, or beside one or two of them, broader."""
_BUYING_SHARE, _SANDING_SHARE = 1.05, 0.95
"""Of what their words alone would take; measured on seven jobs."""
_BOX_MM, _MADE_MM = 3.9, 17.0
_DRAWN_MM = re.compile(r'<svg[^>]* height="([\d.]+)mm"')


def buying_mm(buying: Buying, paper: PageSize) -> float:
    """Return about how high what is bought and mixed is. [mm]"""
    width = WIDTH_MM[paper]
    height = _HEAD_MM + 9.0 + sum(max(8.6, 5.2 * len(row.packs) + 1.4) for row in buying.materials) + 7.0
    height += _TEXT.height(" ".join(buying.surer), width)
    trips = (
        f"[_] {trip.by}: {'; '.join(order.packed for order in trip.orders)} {' '.join(trip.late)}"
        for trip in buying.trips
    )
    height += 7.5 + _TEXT.heights(trips, width - 7.0, 1.5) if buying.trips else 0.0
    height += _TITLE_MM + sum(_coats(table, width) for table in buying.coats)
    for row in buying.abrasives.rows:
        column = (width - 36.0) / max(1, len(buying.abrasives.grits)) - 2.0
        cells = (_TEXT.heights((f"[_] {cell.needed}", cell.packs), column) for cell in row.cells if cell)
        height += max(max(cells, default=0.0), _TEXT.height(row.name, 34.0)) + 1.3
    height += _TITLE_MM + 5.5 if buying.abrasives.rows else 0.0
    height += max(_things(buying.consumables, width / 2), _things(buying.safety, width / 2))
    have = "".join(f"{'_' * 8}{row.count} {row.name} {row.people}{' ' * 6}" for row in buying.have)
    height += _TITLE_MM + 1.35 * _TEXT.height(have, width)
    return _BUYING_SHARE * height


def _coats(table: CoatTable, width: float) -> float:
    height = _TEXT.height(f"{table.material}. {table.hint}", width) + 0.8
    for strip in table.strips:
        wide = len(strip.pours) < 3 and any(pour.mix for pour in strip.pours)
        room, beside = (78.0, 2) if wide else (_POUR_MM, 3)
        small = (f"{pour.weight}, up to {pour.up_to}, {pour.area}" for pour in strip.pours)
        pours = [
            _AMOUNT.line + _SMALL.height(words, room) + _TEXT.heights(pour.mix, room)
            for pour, words in zip(strip.pours, small, strict=True)
        ]
        rows = [max(pours[first : first + beside]) + 0.3 for first in range(0, len(pours), beside)]
        long = len(strip.label) > _LONG
        label = _TEXT.height(strip.label, _LONG_LABEL_MM if long else _LABEL_MM)
        above = long and (wide or len(strip.pours) > 2)
        height += (sum(rows) + _TEXT.line if above else max(sum(rows), label)) + 0.6
    return height


def _things(rows: Sequence[ConsumableRow], width: float) -> float:
    if not rows:
        return 0.0
    names = (max(4.6, _SMALL.height(row.name, width - 46.0), _SMALL.height(row.packs, 23.0)) + 0.9 for row in rows)
    return _TITLE_MM + 4.6 + sum(names) + 1.5


def sanding_mm(
    pages: Sequence[SandingPages],
    order: Sequence[OrderLine],
    rules: tuple[Sequence[GritRule], Sequence[GritRule]],
    paper: PageSize,
) -> float:
    """Return about how high the sanding is. [mm]"""
    width = WIDTH_MM[paper]
    columns = (" ".join(f"{rule.of}. {rule.words}" for rule in column) for column in rules)
    height = _HEAD_MM + max(_RULE.height(words, width / 2 - 3.0) for words in columns) + 3.5
    height += _ORDER.heights((f"{line.items}: {'  3. '.join(line.steps)}" for line in order), width, 0.2)
    for of_piece in pages:
        height += 7.5 if of_piece.piece else 0.0
        height += _ORDER.heights((of_piece.everywhere, of_piece.buy), width, 0.2)
        height += sum(_card(card, width) for card in of_piece.cards)
    return _SANDING_SHARE * height


def _card(card: SandingCard, width: float) -> float:
    drawn = sum(float(mm) + 0.5 for mm in _DRAWN_MM.findall("".join(card.drawings))) + _ORDER.height(card.drawn, 45.0)
    wide = len(card.grits) > 5
    beside = width - 45.0
    room = width if wide else beside
    column = 27.5 if len(card.grits) < 4 else 24.0 if len(card.grits) < 5 else 18.5
    faces = room - column * len(card.grits) - 2.0
    head = 5.2 + _TEXT.height(card.sequence, beside)
    head += _TEXT.heights((f"Mind, {note.faces}: {note.note}" for note in card.notes), beside)
    rows = 5.5
    for row in card.rows:
        boxes = max((_lines_of_boxes(len(cell.boxes), column) for cell in row.cells if cell), default=1)
        rows += max(_CELL.height(f"{row.faces} {row.stop} {row.method}", faces), 4.2 * boxes) + 1.0
    widths = [len(of.part) * 1.9 + sum(9.0 + len(grit.boxes) * 4.4 for grit in of.grits) for of in card.ticks]
    ticks = math.ceil(len(widths) / 2) * (1.0 + 4.2 * math.ceil(max(widths, default=0.0) / (0.48 * width)))
    return (max(drawn, head) + rows if wide else max(drawn, head + rows)) + ticks + 2.0


def _lines_of_boxes(number: int, column: float) -> int:
    """Return how many lines the time takes and the boxes behind it, as many of which as make a line stay together."""
    boxes_mm, beside_mm, below_mm = number * _BOX_MM, column - 10.5, column - 1.4
    if boxes_mm <= beside_mm:
        return 1
    return 1 + math.ceil(boxes_mm / below_mm) if number <= TOGETHER else math.ceil(boxes_mm / beside_mm)


def safety_mm(safety: SafetyPage, moments: Sequence[Sequence[Precaution]], always: str, paper: PageSize) -> float:
    """Return about how high the safety is, with what *always* holds. [mm]"""
    width = WIDTH_MM[paper]
    height = _HEAD_MM + Letters(9, 1.25).height(always, width) + 1.5 + 8.0 + 9.0
    column, before = width * (0.18 if safety.has_fan and not safety.wordy else 0.24) - 2.0, ""
    for row in safety.sessions:
        mask = "the same" if row.cells.mask == before else row.cells.mask
        cells = (row.cells.gets.rpartition(": ")[2], row.cells.without_fan.rpartition(": ")[2], mask)
        first = width * (0.28 if safety.wordy else 0.36) - 2.0
        session = _AIR.height(f"{row.number}. {row.start if safety.room else row.where} {row.coats}", first)
        height += max(session, *(_AIR.height(words, column) for words in cells)) + 1.2
        before = row.cells.mask
    for pool in safety.pools:
        told = " ".join(
            (f"{pool.sessions}. {pool.verdict}.", *(f"{remedy.sessions}: {remedy.words}" for remedy in pool.remedies))
        )
        height += Letters(9, 1.25).height(told, width) + 1.0
    height += Letters(9, 1.25).heights((safety.to_measure, safety.cartridges), width, 1.0)
    columns = [
        sum(
            (6.9 if precaution.heading else 0.0)
            + _RULE.height(f"{precaution.title}. {precaution.text}", width / 2 - 3.0) * 1.03
            + 1.0
            for precaution in side
        )
        for side in moments
    ]
    return height + max(columns[0], columns[1] + _MADE_MM) + 1.0
