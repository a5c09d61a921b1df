"""What is told beside a tick, as it was typed, and the entry that it makes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from finplan.inputs import LeadTest
from finplan.ledger import HeldPlan, Ledger, files_of, numbers_of, ticks_of
from finplan.planning import Plan, PlannedPiece
from finplan.record import (
    Ticking,
    air_of,
    at_of,
    completed,
    done_now,
    earlier_of,
    in_air_until,
    minutes_of,
    ticking,
    used_of,
    words_of,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Noted:
    """What is told beside a tick, each as it was typed; None where nothing is."""

    at: str | None = None
    """When it was so; else now, or as it was ticked before"""
    used: str | None = None
    can: str | None = None
    took: str | None = None
    air: str | None = None
    by: str | None = None
    note: str | None = None
    result: str | None = None
    """What a test of an old coating came to"""


def entry_of(
    ledger: Ledger,
    held: HeldPlan,
    plan: Plan,
    wanted: Sequence[str],
    moment: datetime,
    noted: Noted,
    result: LeadTest | None,
    *,
    dry: bool,
) -> Ticking:
    """Return the entry of steps with what was typed beside them; what is ticked already keeps its time and its hand."""
    numbers = numbers_of(ledger, held.job)
    ended = at_of(noted.at, moment.astimezone(plan.shop.time_zone))
    earlier = earlier_of(ticks_of(ledger, held.job), wanted, numbers, ended, told=noted.at is not None, dry=dry)
    return ticking(
        in_air_until(plan, ledger, held, moment),
        wanted,
        completed(plan, done_now(ledger, held)),
        job=f"{' '.join(files_of(ledger, held.job))} {held.made.digest}",
        at=ended if earlier is None else earlier.at,
        entered=moment,
        dry=dry,
        used=used_of(noted.used, noted.can),
        took_min=minutes_of(noted.took),
        air=air_of(noted.air),
        person=_person(noted.by, plan.pieces) if earlier is None or noted.by is not None else earlier.person,
        note=words_of(noted.note, "note"),
        result=result,
        held=held.id,
    )


def _person(by: str | None, pieces: tuple[PlannedPiece, ...]) -> str | None:
    """Return who did it; the only one who works there where nobody is named."""
    people = [person.name for person in pieces[0].source.shop.people]
    if by is not None:
        named = words_of(by, "by")
        return next((name for name in people if named is not None and name.lower() == named.lower()), named)
    return people[0] if len(people) == 1 else None
