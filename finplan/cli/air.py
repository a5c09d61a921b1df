"""The air of the shop as it is told on the command line."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from finplan.inputs import MAX_LOG_BYTES
from finplan.problems import NotPossibleError, shown
from finplan.reading import UnreadableError, read_bytes
from finplan.record import air_logged, air_told, completed, done_now, read_plan, wet_since

if TYPE_CHECKING:
    from finplan.climate import Measured
    from finplan.ledger import HeldPlan, Ledger
    from finplan.record import Making


def air_of_shop(
    typed: Sequence[str], ledger: Ledger, held: HeldPlan, make: Making, moment: datetime
) -> tuple[Measured, ...]:
    """Return what is told of the air since coats were on that are still to dry: as typed, or in the file of a logger.

    Raises
    ------
    NotPossibleError
        It cannot be read or understood, or there is nothing to dry.
    """
    plan = read_plan(ledger, held, make) if typed else None
    if plan is None:
        return ()
    now = moment.astimezone(plan.shop.time_zone)
    since = wet_since(completed(plan, done_now(ledger, held)), plan)
    logs = [one for one in typed if one.lower().endswith(".csv")]
    if not logs:
        return air_told(typed, now, since)
    if len(typed) > 1:
        msg = "--air: either one log or readings"
        raise NotPossibleError(msg)
    try:
        text = read_bytes(Path(logs[0]), MAX_LOG_BYTES).decode("utf-8-sig")
    except (UnreadableError, UnicodeDecodeError) as error:
        msg = f"--air {shown(logs[0])}: {error}; expected the file of a logger"
        raise NotPossibleError(msg) from None
    return air_logged(logs[0], text, now, since)
