"""Ticks from the bench: what was done when, by whom, with how much. Only added to, and taken back by another entry."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any, Literal

from finplan.ledger.errors import LedgerError
from finplan.ledger.file import Ledger
from finplan.ledger.plans import files_of, keys_of, own_job_of
from finplan.ledger.written import group, instant, moment_written, size_of, values_of

DoneKind = Literal["done", "dry"]
TickKind = Literal["done", "dry", "void"]
"""What an entry may be; one that takes another back is told as no tick of its own."""
LearntKind = Literal["amount", "minutes", "drying"]


@dataclass(frozen=True, slots=True)
class Tick:
    """One entry for one or several steps. Amounts are those of all its steps together."""

    steps: tuple[str, ...]
    """The ids of the steps."""
    at: datetime
    """When it was so: done, or found dry."""
    entered: datetime
    """When it was written down."""
    kind: DoneKind = "done"
    person: str | None = None
    used_ml: float | None = None
    used_g: float | None = None
    can_before_g: float | None = None
    """What the can weighed before, and after."""
    can_after_g: float | None = None
    took_min: float | None = None
    air_c: float | None = None
    humidity_pct: float | None = None
    note: str | None = None
    result: Literal["lead", "clear"] | None = None
    """What a test of an old coating came to; None of all else."""
    observed: Mapping[LearntKind, Any] = field(default_factory=dict)
    """What is learnt from it, as plain values: what was done, so that it can be reckoned again."""
    plan: int | None = None
    """The plan whose numbers were ticked."""
    id: int = 0
    """In the ledger; 0 of one that is not there yet."""
    job: int = 0
    """Whose steps they are, in the ledger; 0 of an entry that is not there yet."""

    @property
    def weighed_g(self) -> float | None:
        """What was used by weight: as it was told, or what the can lost."""
        if self.can_before_g is not None and self.can_after_g is not None:
            return self.can_before_g - self.can_after_g
        return self.used_g


_SIZES = ("used_ml", "used_g", "can_before_g", "can_after_g", "took_min", "air_c", "humidity_pct")
_PLAIN = ("person", *_SIZES, "note", "result")
"""Columns that hold a field as it is."""


def write_tick(ledger: Ledger, job: int, entry: Tick) -> int:
    """Write an entry down and return its id; called while changing."""
    number = ledger.add(
        "tick",
        job=job,
        plan=entry.plan,
        kind=entry.kind,
        at=instant(entry.at),
        entered=instant(entry.entered),
        **{name: getattr(entry, name) for name in _PLAIN},
    )
    for step in entry.steps:
        ledger.add("ticked", tick=number, step=step)
    for kind, basis in entry.observed.items():
        ledger.add("observation", tick=number, kind=kind, basis=group(basis))
    return number


def take_back(ledger: Ledger, entry: Tick, at: datetime, note: str | None = None) -> int:
    """Take an entry back by another, which says when; return its id. Called while changing.

    Raises
    ------
    LedgerError
        It was taken back before.
    """
    if ledger.rows("SELECT 1 FROM tick WHERE voids = ?", (entry.id,)):
        raise LedgerError(f"{ledger.file}: entry {entry.id} was taken back before")
    ((job,),) = ledger.rows("SELECT job FROM tick WHERE id = ?", (entry.id,))
    return ledger.add("tick", job=job, kind="void", at=instant(at), entered=instant(at), note=note, voids=entry.id)


def ticks_of(ledger: Ledger, job: int | None = None, *, up_to: int | None = None) -> tuple[Tick, ...]:
    """Return the entries that stand, in the order in which they were written down.

    Parameters
    ----------
    ledger
        Where
    job
        Of which job, with what was ticked of its pieces while each was planned alone (``ticks_before``); None for all
    up_to
        The last entry that counts, whatever was ticked or taken back later; None for all
    """
    last = last_tick(ledger) if up_to is None else up_to
    own = _standing(ledger, job, last)
    if job is None:
        return own
    before = ticks_before(ledger, files_of(ledger, job), keys_of(ledger, job), up_to=last)
    return tuple(sorted((*before, *own), key=lambda entry: entry.id))


def ticks_before(
    ledger: Ledger, files: Sequence[str], keys: Sequence[str], *, up_to: int | None = None
) -> tuple[Tick, ...]:
    """Return the entries of jobs of one file each, their steps called as in a plan of several.

    Parameters
    ----------
    ledger, up_to
        As for ``ticks_of``
    files
        The piece files of the plan of several, as seen from the ledger
    keys
        What goes before the ids of each of their pieces; none for a plan of one
    """
    last = last_tick(ledger) if up_to is None else up_to
    alone = ((own_job_of(ledger, [file]), key) for file, key in zip(files, keys, strict=False))
    return tuple(
        replace(entry, steps=tuple(key + step for step in entry.steps))
        for job, key in alone
        if job is not None
        for entry in _standing(ledger, job, last)
    )


def _standing(ledger: Ledger, job: int | None, last: int) -> tuple[Tick, ...]:
    rows = ledger.rows(
        "SELECT * FROM tick WHERE kind <> 'void' AND id <= ?1 AND (?2 IS NULL OR job = ?2) "
        "AND NOT EXISTS (SELECT 1 FROM tick AS other WHERE other.voids = tick.id AND other.id <= ?1) ORDER BY id",
        (last, job),
    )
    return tuple(_tick(ledger, row) for row in rows)


def last_tick(ledger: Ledger) -> int:
    """Return the id of the last entry; 0 where there is none."""
    ((last,),) = ledger.rows("SELECT coalesce(max(id), 0) FROM tick")
    return int(last)


def ended_by_tick(ticks: Sequence[Tick]) -> dict[str, datetime]:
    """Return when the steps that are ticked ended, by id; of one that is ticked twice the later entry counts."""
    return {step: entry.at for entry in ticks if entry.kind == "done" for step in entry.steps}


def _tick(ledger: Ledger, row: sqlite3.Row) -> Tick:
    steps = ledger.rows("SELECT step FROM ticked WHERE tick = ? ORDER BY step", (row["id"],))
    observed = ledger.rows("SELECT kind, basis FROM observation WHERE tick = ? ORDER BY kind", (row["id"],))
    for size in _SIZES:
        size_of(row[size])
    return Tick(
        steps=tuple(step for (step,) in steps),
        at=moment_written(row["at"]),
        entered=moment_written(row["entered"]),
        kind=row["kind"],
        observed={observation["kind"]: values_of(observation["basis"]) for observation in observed},
        plan=row["plan"],
        id=row["id"],
        job=row["job"],
        **{name: row[name] for name in _PLAIN},
    )
