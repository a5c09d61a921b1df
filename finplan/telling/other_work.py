"""What is said of work that is no step of a treatment: cleaning up, gluing up, and putting the piece together."""

from __future__ import annotations

from finplan.catalogue import Finish
from finplan.listing import counted, listed
from finplan.planning import PlannedPiece
from finplan.showing import capital, show_duration
from finplan.spans import show_range
from finplan.telling.names import places

STAGES = {"before-assembly": "before gluing up", "after-assembly": "when glued up", "loose": ""}
"""When something is sanded; of a loose part there is nothing to say."""
_FEW = 6
"""More items than these are counted, not named."""


def clean_up_label(finish: Finish) -> str:
    """Return with what a tool is cleaned, in one line."""
    return f"Clean up with {finish.clean_up}"


def glue_up_lines(item: str, piece: PlannedPiece) -> tuple[str, ...]:
    """Return which parts of an item are glued together, and what to mind."""
    made, job = piece.source.piece, piece.source.catalogue.work["glue-up"]
    of_item = next(treatment for treatment in piece.treatments if treatment.item == item)
    parts = listed(counted(part, made.parts[part].count) for part in of_item.parts)
    waits = () if job.wait_h is None else (f"It stays in the clamps for {show_range(job.wait_h, show_duration)}.",)
    return (f"{parts}.", *waits, *job.notes)


def before_coating_lines(row_id: str, piece: PlannedPiece) -> tuple[str, ...]:
    """Return which faces are gone over or masked between gluing up and the first coat, and why."""
    step = next(step for step in piece.sanding.order if step.id == row_id)
    return (f"{places(step.groups) or '; '.join(step.faces)}.", f"{capital(step.reason)}.")


def put_together_lines(piece: PlannedPiece) -> tuple[str, ...]:
    """Return what of a piece is put together, and what to mind."""
    job = piece.source.catalogue.work["put-together"]
    items = list(dict.fromkeys(treatment.named for treatment in piece.treatments))
    told = listed(items) if len(items) <= _FEW else f"all {len(items)} items"
    return (f"{job.title}: {told}.", *job.notes)
