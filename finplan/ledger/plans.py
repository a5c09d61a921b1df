"""Plans that are held: made once, known by what they were made from, numbered in the order in which they were made."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from finplan.ledger.file import Ledger
from finplan.ledger.written import group, instant, moment_written, names_of, read_back_as, values_of


@dataclass(frozen=True, slots=True)
class HeldRow:
    """A stretch of work or of drying, as it was planned."""

    step: str
    """The id of what is done; a row in which something dries has its own."""
    number: int | None
    """The short number of the step."""
    begins: datetime
    ends: datetime
    person: str | None
    row: Mapping[str, Any]
    """All else that stands in it."""


@dataclass(frozen=True, slots=True)
class Made:
    """What a plan was made from, and what came of it."""

    at: datetime
    version: str
    """Of the program."""
    digest: str
    """Of the bytes of all files."""
    wishes: Mapping[str, Any]
    done: Mapping[str, datetime]
    """When steps had ended that were done before, by id."""
    answer: Mapping[str, Any]
    """What is said of it as a whole."""
    rows: tuple[HeldRow, ...]
    last_tick: int = 0
    """The last tick that was known, and the last that had befallen a lot."""
    last_event: int = 0

    def asks_as(self, other: Made) -> bool:
        """Return whether both were made from the same files, wishes, things done, repairs, and air that was told."""
        mine, others = ((made.digest, made.wishes, made.done, made._told) for made in (self, other))
        return mine == others

    @property
    def _told(self) -> tuple[Any, Any]:
        with read_back_as("air"):
            return self.answer.get("air", {}).get("told", []), self.answer.get("repairs", [])


@dataclass(frozen=True, slots=True)
class HeldPlan:
    """A plan in a ledger."""

    id: int
    job: int
    number: int
    made: Made


def job_id(ledger: Ledger, files: Sequence[str]) -> int | None:
    """Return the id of the job of these piece files, named as seen from the ledger; None where there is none.

    They may have been planned alone, and together with others: the job planned last is meant, for its plan is what
    hangs on the wall.
    """
    rows = ledger.rows(
        "SELECT job.id, job.files FROM job JOIN plan ON plan.job = job.id GROUP BY job.id ORDER BY max(plan.id) DESC"
    )
    return next((int(row["id"]) for row in rows if set(files) <= set(names_of(row["files"]))), None)


def joint_job_of(ledger: Ledger, files: Sequence[str]) -> int | None:
    """Return the id of the job in which these piece files were planned last, if others were planned with them there."""
    job = job_id(ledger, files)
    return None if job is None or set(files_of(ledger, job)) == set(files) else job


def own_job_of(ledger: Ledger, files: Sequence[str]) -> int | None:
    """Return the id of the job of exactly these piece files; None where there is none."""
    rows = ledger.rows("SELECT id FROM job WHERE files = ?", (group(list(files)),))
    return int(rows[0][0]) if rows else None


def numbers_of(ledger: Ledger, job: int) -> dict[str, int]:
    """Return the short number of every step that ever had one in a plan of a job, by its id; not of what dries."""
    return {
        row["step"]: row["number"]
        for row in ledger.rows(
            "SELECT step, min(number) AS number FROM planned WHERE number IS NOT NULL AND person IS NOT NULL "
            "AND plan IN (SELECT id FROM plan WHERE job = ?) GROUP BY step",
            (job,),
        )
    }


def files_of(ledger: Ledger, job: int) -> tuple[str, ...]:
    """Return the piece files of a job, in the order in which they were planned."""
    ((files,),) = ledger.rows("SELECT files FROM job WHERE id = ?", (job,))
    return names_of(files)


def keys_of(ledger: Ledger, job: int) -> tuple[str, ...]:
    """Return what goes before the ids of each of its pieces, by the newest plan of a job; none of one alone."""
    rows = ledger.rows("SELECT json_extract(answer, '$.keys') FROM plan WHERE job = ? ORDER BY id DESC LIMIT 1", (job,))
    return names_of(rows[0][0]) if rows and rows[0][0] is not None else ()


def begin_job(ledger: Ledger, files: Sequence[str], at: datetime) -> int:
    """Return the id of the job of exactly these files, begun where there is none; called while changing."""
    own = own_job_of(ledger, files)
    return ledger.add("job", files=group(list(files)), begun=instant(at)) if own is None else own


def hold_plan(
    ledger: Ledger, files: Sequence[str], made: Made, *, anew: bool = False, in_place_of: int | None = None
) -> HeldPlan:
    """Hold a plan under the next number of its job; one that is held already from the same is returned instead.

    Parameters
    ----------
    ledger
        Where
    files
        The piece files, as seen from the ledger
    made
        The plan
    anew
        Whether it is a new one even if the newest was made from the same
    in_place_of
        The number of the plan whose place it takes: it is a new one, unless another process did the same meanwhile

    Notes
    -----
    Two processes that plan the same at once hold one plan: the second takes that of the first.
    """
    with ledger.changing():
        job = begin_job(ledger, files, made.at)
        last = newest(ledger, job)
        known = in_place_of is not None and last is not None and last.number <= in_place_of
        if last is not None and last.made.asks_as(made) and not anew and not known:
            return last
        number = 1 if last is None else last.number + 1
        plan = ledger.add(
            "plan",
            job=job,
            number=number,
            made=instant(made.at),
            version=made.version,
            digest=made.digest,
            wishes=group(made.wishes),
            done=group({step: instant(at) for step, at in made.done.items()}),
            answer=group(made.answer),
            last_tick=made.last_tick,
            last_event=made.last_event,
        )
        for position, row in enumerate(made.rows):
            ledger.add(
                "planned",
                plan=plan,
                position=position,
                step=row.step,
                number=row.number,
                begins=instant(row.begins),
                ends=instant(row.ends),
                person=row.person,
                row=group(row.row),
            )
    return HeldPlan(plan, job, number, made)


def newest(ledger: Ledger, job: int) -> HeldPlan | None:
    """Return the plan of a job with the highest number."""
    return _first(ledger, ledger.rows("SELECT * FROM plan WHERE job = ? ORDER BY number DESC LIMIT 1", (job,)))


def plan_numbered(ledger: Ledger, job: int, number: int) -> HeldPlan | None:
    """Return the plan of a job with a number."""
    return _first(ledger, ledger.rows("SELECT * FROM plan WHERE job = ? AND number = ?", (job, number)))


def every_plan(ledger: Ledger) -> Iterator[HeldPlan]:
    """Give every plan of every job."""
    for row in ledger.rows("SELECT id FROM plan ORDER BY id"):
        held_plan = plan_by_id(ledger, row["id"])
        if held_plan is not None:
            yield held_plan


def plan_by_id(ledger: Ledger, plan: int) -> HeldPlan | None:
    """Return a plan by its id in the ledger, as ticks name it; None where there is none."""
    return _first(ledger, ledger.rows("SELECT * FROM plan WHERE id = ?", (plan,)))


def _first(ledger: Ledger, rows: Iterable[sqlite3.Row]) -> HeldPlan | None:
    for row in rows:
        planned = ledger.rows("SELECT * FROM planned WHERE plan = ? ORDER BY position", (row["id"],))
        made = Made(
            at=moment_written(row["made"]),
            version=row["version"],
            digest=row["digest"],
            wishes=values_of(row["wishes"]),
            done={step: moment_written(at) for step, at in values_of(row["done"]).items()},
            answer=values_of(row["answer"]),
            rows=tuple(_row(stretch) for stretch in planned),
            last_tick=row["last_tick"],
            last_event=row["last_event"],
        )
        return HeldPlan(row["id"], row["job"], row["number"], made)
    return None


def _row(row: sqlite3.Row) -> HeldRow:
    return HeldRow(
        step=row["step"],
        number=row["number"],
        begins=moment_written(row["begins"]),
        ends=moment_written(row["ends"]),
        person=row["person"],
        row=values_of(row["row"]),
    )
