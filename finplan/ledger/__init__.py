"""The job's record, a file of its own beside the pieces: plans that are held, ticks from the bench, the shelf.

It knows nothing of how a plan is made: ids, amounts and times come in and go out as they are.
"""

from finplan.ledger.errors import LedgerError, NotWritableError
from finplan.ledger.file import Ledger, open_ledger, open_or_read_ledger, read_ledger
from finplan.ledger.interchange import bring_in, ledger_data
from finplan.ledger.plans import (
    HeldPlan,
    HeldRow,
    Made,
    begin_job,
    files_of,
    hold,
    job_of,
    newest,
    numbered,
    numbers_of,
    own_job_of,
    plan_by_id,
)
from finplan.ledger.stock import (
    Event,
    EventKind,
    Lot,
    LotKind,
    Measure,
    Standing,
    befall,
    last_event,
    once_drawn,
    receive,
    standing,
    undo_event,
)
from finplan.ledger.ticks import LearntKind, Tick, TickKind, done_of, last_tick, take_back, tick, ticks_of

__all__ = [
    "Event",
    "EventKind",
    "HeldPlan",
    "HeldRow",
    "LearntKind",
    "Ledger",
    "LedgerError",
    "Lot",
    "LotKind",
    "Made",
    "Measure",
    "NotWritableError",
    "Standing",
    "Tick",
    "TickKind",
    "befall",
    "begin_job",
    "bring_in",
    "done_of",
    "files_of",
    "hold",
    "job_of",
    "last_event",
    "last_tick",
    "ledger_data",
    "newest",
    "numbered",
    "numbers_of",
    "once_drawn",
    "open_ledger",
    "open_or_read_ledger",
    "own_job_of",
    "plan_by_id",
    "read_ledger",
    "receive",
    "standing",
    "take_back",
    "tick",
    "ticks_of",
    "undo_event",
]
