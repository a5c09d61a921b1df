"""Coats that went wrong and are mended: entries of the record, only added to, and taken back by another entry."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime

from finplan.ledger.errors import LedgerError
from finplan.ledger.file import Ledger
from finplan.ledger.written import group, instant, moment_written, names_of


@dataclass(frozen=True, slots=True)
class RepairEntry:
    """One coat that went wrong, and what is mended of it."""

    at: datetime
    """When that was told."""
    fault: str
    coat: str
    """The id of the step that put it on."""
    after: str
    """The id of the step after which it is mended."""
    share: float
    """How much of the faces, above 0 to 1."""
    parts: tuple[str, ...] = ()
    """The parts that are mended; empty for all of the item."""
    id: int = 0
    """In the ledger; 0 of one that is not there yet."""


def note_repair(ledger: Ledger, job: int, entry: RepairEntry) -> int:
    """Write a repair down and return its id; called while changing."""
    return ledger.add(
        "repair",
        job=job,
        at=instant(entry.at),
        fault=entry.fault,
        coat=entry.coat,
        after=entry.after,
        share=entry.share,
        parts=group(list(entry.parts)) if entry.parts else None,
    )


def take_repair_back(ledger: Ledger, entry: RepairEntry, at: datetime) -> int:
    """Take a repair back by another entry; return that one's id. Called while changing.

    Raises
    ------
    LedgerError
        It was taken back before.
    """
    if ledger.rows("SELECT 1 FROM repair WHERE voids = ?", (entry.id,)):
        raise LedgerError(f"{ledger.file}: repair {entry.id} was taken back before")
    ((job,),) = ledger.rows("SELECT job FROM repair WHERE id = ?", (entry.id,))
    return ledger.add("repair", job=job, at=instant(at), voids=entry.id)


def repairs_of(ledger: Ledger, job: int, only: Collection[int] | None = None) -> tuple[RepairEntry, ...]:
    """Return the repairs of a job in the order in which they were written down.

    Parameters
    ----------
    ledger, job
        Where, and of which job
    only
        The ids of those that a plan knew, taken back since or not; None for those that stand
    """
    rows = ledger.rows("SELECT * FROM repair WHERE job = ? AND voids IS NULL ORDER BY id", (job,))
    void = {row["voids"] for row in ledger.rows("SELECT voids FROM repair WHERE voids IS NOT NULL")}
    return tuple(
        RepairEntry(
            moment_written(row["at"]),
            row["fault"],
            row["coat"],
            row["after"],
            row["share"],
            () if row["parts"] is None else names_of(row["parts"]),
            row["id"],
        )
        for row in rows
        if (row["id"] not in void if only is None else row["id"] in only)
    )
