"""Entries for ledgers in tests; what they say is invented."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from finplan.ledger import HeldRow, Made, Tick

MORNING = datetime(2027, 2, 10, 8, 0, tzinfo=UTC)
FILES = ("settle.yaml",)


def made(digest: str = "0011aabb", minute: int = 0) -> Made:
    """A plan of two rows."""
    begins = MORNING + timedelta(minutes=minute)
    return Made(
        at=MORNING,
        version="0.1",
        digest=digest,
        wishes={"asap": True, "from": None},
        done={"seat/sand": MORNING},
        answer={"status": "optimal", "gap_h": None},
        rows=(
            HeldRow("seat/coat-1", 1, begins, begins + timedelta(minutes=25), "Wenna", {"room": "loft"}),
            HeldRow("seat/coat-1/dry", None, begins, begins + timedelta(hours=12), None, {}),
        ),
    )


def done(step: str = "seat/coat-1", minute: int = 0, **more: object) -> Tick:
    """A tick of one step."""
    at = MORNING + timedelta(minutes=minute)
    return Tick((step,), at, at + timedelta(minutes=5), **more)  # type: ignore[arg-type]
