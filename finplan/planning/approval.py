"""The approval of a sample board, for which the first coats of its piece wait."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from finplan.planning.piece import PlannedPiece
from finplan.planning.sample import approved_id
from finplan.quantity import NOTHING
from finplan.system import WHOLE_PIECE, work_id
from finplan.timetable import After, Operation, delivery_time


@dataclass(frozen=True, slots=True)
class Approval:
    """When the coats of a piece may begin, as far as its sample board is concerned."""

    by: datetime
    """Until when it is to be approved."""
    waits_until: datetime
    """When it was approved; else until when that is waited for, which is now where it comes late."""
    signed: bool
    """Whether it was approved."""

    @property
    def late(self) -> bool:
        """Whether it was to be approved before now, and is not."""
        return not self.signed and self.waits_until > self.by


def approval_of(piece: PlannedPiece, now: datetime, done: Mapping[str, datetime]) -> Approval | None:
    """Return what a piece waits for; None where no approval is asked for.

    Parameters
    ----------
    piece
        The piece, not its sample
    now
        The earliest moment at which work may start
    done
        When steps ended that were done, by their id; that of showing the sample is its approval. Of a piece that waits
        already, with what it waits for
    """
    sample = piece.source.piece.sample
    by = None if sample is None else delivery_time(sample.by, piece.source.shop)
    if sample is None or by is None:
        return None
    signed = by if sample.approved else done.get(approved_id(piece))
    waited = done.get(signed_id(piece))
    if signed is None and waited is not None:
        return Approval(by, waited, signed=False)
    return Approval(by, signed or max(by, now), signed is not None)


def signed_id(piece: PlannedPiece) -> str:
    """Return the id of what the first coats of a piece wait for: its approval, at whatever moment that is given."""
    return work_id(approved_id(piece), "signed")


def with_approval(
    piece: PlannedPiece, operations: Sequence[Operation], approval: Approval
) -> tuple[tuple[Operation, ...], dict[str, datetime]]:
    """Return operations of which the first coats wait for an approval, and when that is: as if it were done then.

    It is no work of anybody in the shop, so no operation of the piece; it is one only for what comes after it.
    """
    of_customer = signed_id(piece)
    waited: set[tuple[str, int]] = set()
    waiting: list[Operation] = []
    for operation in operations:
        first = operation.finish is not None and (operation.item, operation.number) not in waited
        if first:
            waited.add((operation.item, operation.number))
        waiting.append(replace(operation, after=(*operation.after, After(of_customer))) if first else operation)
    signing = Operation(
        id=of_customer,
        item=WHOLE_PIECE,
        deed="extra",
        label="approval",
        step=None,
        hours=NOTHING,
        work_min=0,
        skill="assembly",
        room_use="assembly",
    )
    return (signing, *waiting), {of_customer: approval.waits_until}
