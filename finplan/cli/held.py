"""Plans of the command line: held in the workshop's record where there is one."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from finplan.cli.common import busy, in_words
from finplan.cli.options import BufferChoice, ReadyChoice
from finplan.cli.wishes import as_option, now
from finplan.place import ledger_beside, names_from

if TYPE_CHECKING:
    from finplan.ledger import Ledger
    from finplan.planning import Plan, PlannedPiece
    from finplan.record import Asked, HeldNote, Making


@dataclass(frozen=True)
class Keeping:
    """Where a plan is held, and whether it is."""

    ledger: Path | None = None
    """As it is named; None for the one beside the pieces."""
    without: bool = False
    """Nothing is read of a record, and nothing written."""
    anew: bool = False
    catalogue_only: bool = False

    def file(self, files: Sequence[Path]) -> Path | None:
        """Return the record for some pieces; None where there is none."""
        return None if self.without else ledger_beside(files, self.ledger)


def asked_of(
    from_: str | None = None,
    deliver: str | None = None,
    *,
    asap: bool = False,
    buffer: BufferChoice = BufferChoice.wanted,
    ready_for: ReadyChoice = ReadyChoice.light_use,
    done: Sequence[str] | None = None,
) -> Asked:
    """Return what is asked of a plan beside its files."""
    from finplan.record import Asked

    return Asked(from_, deliver, asap, buffer is BufferChoice.max, ready_for.value, tuple(done or ()))


def planned(
    files: Sequence[Path],
    pieces: tuple[PlannedPiece, ...],
    asked: Asked,
    keeping: Keeping,
    *,
    sure: str = "90 %",
    limit: str | None = None,
    lose: str | None = None,
    earliest: bool = True,
) -> Plan:
    """Return the plan of pieces, with a word about what is being done; of one that is held with its timetable.

    Parameters
    ----------
    files, pieces
        The pieces
    asked
        What is asked of it
    keeping
        Where it is held
    sure, limit, lose
        As typed; what becomes of a lost day is only asked, of what is still to be done by the record, and never held
    earliest
        Whether the earliest finish is wanted of a plan that is not held
    """
    from finplan.record import plan_maker

    file, moment = keeping.file(files), now()
    if file is None or lose is not None:
        make = plan_maker(pieces, moment, sure=sure, limit=limit, lose=lose, earliest=earliest)
        with as_option():
            return _only_asked(files, file, replace(asked, catalogue_only=keeping.catalogue_only), make, moment)
    from finplan.record import kept_plan

    with busy("planning") as say, as_option(), _or_without():
        return _kept(
            file,
            lambda ledger: kept_plan(
                ledger,
                names_from(files, file),
                replace(asked, catalogue_only=keeping.catalogue_only),
                plan_maker(pieces, moment, sure=sure, limit=limit, progress=in_words(say)),
                made=moment,
                anew=keeping.anew,
                say=lambda note: _tell(note, file),
            ),
        )


def _only_asked(files: Sequence[Path], file: Path | None, asked: Asked, make: Making, moment: datetime) -> Plan:
    """Return a plan that is held nowhere; of a job in a *file* what is ticked there is done."""
    if file is not None:
        from finplan.ledger import read_ledger
        from finplan.record import next_by_record

        with read_ledger(file) as ledger:
            if ledger is not None:
                return next_by_record(ledger, names_from(files, file), asked, make, moment)
    return make(asked, now=None, done={}, numbers={})


def _tell(note: HeldNote, file: Path) -> None:
    from finplan.telling import held_note_words

    typer.echo(f"{file}: {held_note_words(note)}", err=True)


def _kept(file: Path, plan_in: Callable[[Ledger], Plan]) -> Plan:
    """Return the plan that is made and held in a record; one that is begun for it is no file before it holds a plan."""
    from finplan.ledger import can_be_begun, name_ledger, open_or_read_ledger, unnamed_ledger

    if can_be_begun(file):
        with unnamed_ledger(file) as ledger:
            plan = plan_in(ledger)
            if plan.number is None or name_ledger(ledger):
                return plan
    with open_or_read_ledger(file) as ledger:
        return plan_in(ledger)


@contextmanager
def _or_without() -> Iterator[None]:
    """Where a plan cannot be written down, say how it is asked for without that."""
    from finplan.ledger import LedgerError, NotWritableError

    try:
        yield
    except NotWritableError as error:
        msg = f"{error}; with --no-ledger it is planned, and held nowhere"
        raise LedgerError(msg) from error


def with_record(plan: Plan, files: Sequence[Path], keeping: Keeping) -> Plan:
    """Return a plan with what the shop has learnt and has on its shelf by its record, which is only read.

    With the timetable that is held too, where that is of the files as they are.
    """
    file = keeping.file(files)
    if file is None:
        return plan
    from finplan.ledger import last_event, last_tick, read_ledger
    from finplan.record import with_held_timetable, with_known

    with read_ledger(file) as ledger:
        if ledger is None:
            return plan
        known = last_tick(ledger), last_event(ledger)
        plan = with_known(plan, ledger, up_to_tick=known[0], up_to_event=known[1], learn=not keeping.catalogue_only)
        return with_held_timetable(plan, ledger, names_from(files, file))


def stands_of(files: Sequence[Path], plan: Plan, pieces: Sequence[PlannedPiece], keeping: Keeping) -> tuple[str, ...]:
    """Return what stands of the job of pieces by their record, which is only read; each without its stop."""
    file = keeping.file(files)
    if file is None:
        return ()
    from finplan.bench import standing_words_of
    from finplan.ledger import read_ledger

    with read_ledger(file) as ledger:
        return () if ledger is None else standing_words_of(ledger, names_from(files, file), plan, pieces, now())
