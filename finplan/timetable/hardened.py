"""Coats put on before that have become too hard for the next one by the time at which that is planned."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from finplan.timetable.job import Job, PieceWork
from finplan.timetable.note import TooHard
from finplan.timetable.operation import Operation
from finplan.timetable.rows import first_stretches, recoat_window
from finplan.timetable.setting import Setting
from finplan.timetable.timetable import TimetableStep


def hardened(job: Job, setting: Setting, steps: Sequence[TimetableStep]) -> Iterator[TooHard]:
    """Give what has to be known of coats that were put on long before the rest."""
    begun = first_stretches(steps)
    for piece, coat in setting.coats_before:
        put_on = piece.done[coat.id]
        _, closes = recoat_window(coat, setting.minute(put_on), setting)
        later, abraded = _next_coat(piece, coat)
        row = None if later is None else begun.get(later.id)
        if later is None or row is None or closes is None or row.start <= closes:
            continue
        again = later.again is not None and later.over == coat.id and later.again.id in begun
        put_on = put_on.astimezone(job.shop.time_zone)
        yield TooHard(coat.item, coat.label, put_on, later.label, closes, abraded=abraded or again)


def _next_coat(piece: PieceWork, coat: Operation) -> tuple[Operation | None, bool]:
    """Return the next coat on one, of another step, and whether something is abraded between anyway."""
    operation, abraded = piece.following(coat), False
    while operation is not None and (operation.finish is None or operation.step is coat.step):
        abraded = abraded or operation.makes_dust
        operation = piece.following(operation)
    return operation, abraded
