"""What is said of a sample board that a customer approves, and of an approval that comes late."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from finplan.moments import not_after, not_before, show_moment
from finplan.planning import Approval, Plan, approval_of


@dataclass(frozen=True, slots=True)
class ApprovalTold:
    """The approval for which the first coats of a piece wait."""

    piece: str
    approval: Approval
    keeps_until: datetime | None
    """Until when it may come with every date kept if all goes typically then; None where that is not known."""
    words: str


def approvals_told(plan: Plan) -> tuple[ApprovalTold, ...]:
    """Return what is told of the approvals that a plan waits for; nothing of those that are signed."""
    return tuple(_told(plan))


def _told(plan: Plan) -> Iterator[ApprovalTold]:
    for piece in plan.pieces:
        approval = None if piece.sample else approval_of(piece, plan.now, plan.done)
        if approval is None or approval.signed:
            continue
        keeps = plan.approvals_keep.get(piece.name)
        zone = plan.shop.time_zone
        of_piece = f"{piece.name}: " if sum(not other.sample for other in plan.pieces) > 1 else ""
        by = show_moment(approval.by.astimezone(zone))
        if approval.late:
            told = f"the sample was to be approved by {by} and is not: each hour that it waits, all coats wait"
        else:
            told = f"no coat before the sample is approved, by {by}"
        if keeps is not None:
            told += f"; approved by {show_moment(not_after(keeps))} every date is still kept, later they move"
        told = f"{of_piece}{told}." if of_piece else f"{told[:1].upper()}{told[1:]}."
        yield ApprovalTold(piece.name, approval, keeps, told)


def sample_due_words(plan: Plan) -> str:
    """Return by when samples are to be approved; empty where none is asked for, or all are signed."""
    due = dict.fromkeys(show_moment(not_before(approval.approval.by)) for approval in approvals_told(plan))
    return " and ".join(f"by {moment}" for moment in due)
