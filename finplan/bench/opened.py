"""The record of pieces, opened with the newest plan of their job."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from finplan.ledger import HeldPlan, Ledger, files_of, job_id, newest, open_ledger, read_ledger
from finplan.place import ledger_beside, names_from
from finplan.problems import NotPossibleError


class NotHeldError(NotPossibleError):
    """No plan of these pieces is held."""


@contextmanager
def opened(
    files: Sequence[Path], ledger: Path | None, *, to_read: bool = False
) -> Iterator[tuple[Ledger, HeldPlan, list[Path]]]:
    """Open the record of pieces; gives it with the newest plan of their job, and all files of that.

    *to_read*: it is not changed, and may be one that only may be read.

    Raises
    ------
    NotHeldError
        There is no record, or nothing is planned in it.
    """
    file = ledger_beside(files, ledger)
    asked = " ".join(str(path) for path in files)
    if file is None or not file.exists():
        where = "beside it" if file is None else f"in {file}"
        msg = f"{asked}: there is no record {where}; plan it first: finplan timetable, in a folder with a shop.yaml"
        raise NotHeldError(msg)
    with read_ledger(file) if to_read else open_ledger(file) as record:
        job = None if record is None else job_id(record, names_from(files, file))
        last = None if record is None or job is None else newest(record, job)
        if record is None or job is None or last is None:
            msg = f"{asked}: no plan of it is held in {file}; plan it first: finplan timetable {asked}"
            raise NotHeldError(msg)
        yield record, last, [file.parent / name for name in files_of(record, job)]
