"""The job's record as a whole: every row of every table, as it stands in the file.

A column and the key of its row are one name: a test compares them, and ``ledger import`` reads what stands here.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Literal

from finplan.data.row import CountFromOne, NotNegative, Share, WholeNumber, row
from finplan.inputs import LeadTest
from finplan.ledger import EventKind, LearntKind, LotKind, LotMeasure, TickKind


@row
class JobEntryRow:
    """Entry of a job."""

    id: CountFromOne
    """Of the job."""
    files: str
    """JSON: the piece files that are planned together, as seen from the record."""
    begun: str
    """When it was first planned."""


@row
class PlanEntryRow:
    """Entry of a plan."""

    id: CountFromOne
    """Of the plan."""
    job: CountFromOne
    """Of which job."""
    number: CountFromOne
    """Its number in the job, as it stands on paper."""
    made: str
    """When it was made."""
    version: str
    """Of the program."""
    digest: str
    """Of the bytes of all files that it rests on."""
    wishes: str
    """JSON: what was asked beside them."""
    done: str
    """JSON: when steps had ended that were done before, by id."""
    answer: str
    """JSON: what is said of the plan as a whole."""
    last_tick: WholeNumber
    """The last tick that was known when it was made; 0 for none."""
    last_event: WholeNumber
    """The last that had befallen a lot then; 0 for nothing."""


@row
class PlannedEntryRow:
    """Entry of a planned stretch."""

    plan: CountFromOne
    """Of which plan."""
    position: WholeNumber
    """Which row of it."""
    step: str
    """The id of its step."""
    number: CountFromOne | None
    """The short number of the step; null where its row has none."""
    begins: str
    """When it begins."""
    ends: str
    """When it ends."""
    person: str | None
    """Who does it; null while it dries."""
    row: str
    """JSON: all else that stands in it."""


@row
class TickEntryRow:
    """Entry of a tick."""

    id: CountFromOne
    """Of the tick."""
    job: CountFromOne
    """Of which job."""
    plan: CountFromOne | None
    """The plan whose numbers were ticked."""
    kind: TickKind
    """The steps were `done`, their coats were found `dry`, or an entry is taken back: `void`."""
    at: str
    """When it was so."""
    entered: str
    """When it was written down."""
    person: str | None
    """Who did it."""
    used_ml: NotNegative | None
    """What was used, as it was told. [ml]"""
    used_g: NotNegative | None
    """The same by weight. [g]"""
    can_before_g: NotNegative | None
    """What the can weighed before. [g]"""
    can_after_g: NotNegative | None
    """What it weighed after. [g]"""
    took_min: NotNegative | None
    """How long it took. [min]"""
    air_c: float | None
    """The temperature then. [°C]"""
    humidity_pct: NotNegative | None
    """The humidity then. [%]"""
    note: str | None
    """What else was told."""
    result: LeadTest | None
    """What a test of an old coating came to: it holds `lead`, or is `clear` of it."""
    voids: CountFromOne | None
    """The tick that is taken back by this."""


@row
class TickedEntryRow:
    """Entry of a ticked step."""

    tick: CountFromOne
    """Of which tick."""
    step: str
    """The id of the step."""


@row
class ObservationEntryRow:
    """Entry of what is learnt."""

    tick: CountFromOne
    """From which tick."""
    kind: LearntKind
    """What it tells of."""
    basis: str
    """JSON: what was done, for it to be reckoned again."""


@row
class LotEntryRow:
    """Entry of a lot."""

    id: CountFromOne
    """Of the lot."""
    kind: LotKind
    """The kind of its record."""
    material: str
    """The name of its record in the catalogue."""
    component: str | None
    """Of a finish of several components, which it is."""
    grit: str | None
    """Of an abrasive, its grade."""
    measure: LotMeasure
    """What amounts of it are counted in."""
    pack: NotNegative
    """What it holds when full."""
    batch: str | None
    """The batch on its label."""
    price: NotNegative | None
    """What it cost."""
    entered: str
    """When it was written down."""


@row
class LotEventEntryRow:
    """Entry of what befell a lot."""

    id: CountFromOne
    """Of the entry."""
    lot: CountFromOne
    """Of which lot."""
    kind: EventKind
    """What befell it, or that an entry is taken back: `void`."""
    at: str
    """When it was so."""
    entered: str
    """When it was written down."""
    amount: NotNegative | None
    """Received or counted: what there was; drawn: what was taken. In the measure of the lot."""
    tick: CountFromOne | None
    """The tick of the coat that took it."""
    note: str | None
    """What else was told."""
    voids: CountFromOne | None
    """The entry that is taken back by this."""


@row
class RepairEntryRow:
    """Entry of the table of repairs.

    A coat that went wrong, and what is mended of it; or that such an entry was taken back.
    """

    id: CountFromOne
    """Its number."""
    job: CountFromOne
    """Of which job."""
    at: str
    """When that was told, in universal time."""
    fault: str | None
    """A name in the catalogue's faults; null where an entry is taken back."""
    coat: str | None
    """The id of the step that put the coat on; null likewise."""
    after: str | None
    """The id of the step after which it is mended; null likewise."""
    share: Share | None
    """How much of the faces; null likewise."""
    parts: str | None
    """JSON: the parts that are mended; null for all of the item."""
    voids: CountFromOne | None
    """The entry that is taken back; null where none is."""


@row
class TablesRow:
    """Tables."""

    job: tuple[JobEntryRow, ...]
    """The jobs."""
    plan: tuple[PlanEntryRow, ...]
    """The plans."""
    planned: tuple[PlannedEntryRow, ...]
    """The stretches of the plans."""
    tick: tuple[TickEntryRow, ...]
    """What was ticked."""
    ticked: tuple[TickedEntryRow, ...]
    """The steps of the ticks."""
    observation: tuple[ObservationEntryRow, ...]
    """What is learnt from the ticks."""
    lot: tuple[LotEntryRow, ...]
    """What came to the shelf."""
    lot_event: tuple[LotEventEntryRow, ...]
    """What befell it."""
    repair: tuple[RepairEntryRow, ...]
    """Coats that went wrong, and what is mended of them."""


@row
class LedgerRow:
    """Record.

    Everything in the record of the jobs of a folder. Times are ISO 8601 in universal time.
    """

    format: Literal["finplan-ledger/1"]
    """Says what this is."""
    version: CountFromOne
    """Of the tables; an older one is brought forward when it is imported."""
    tables: TablesRow
    """All entries by table, in the order in which they were made."""


_KINDS: dict[str, type] = {
    "job": JobEntryRow,
    "plan": PlanEntryRow,
    "planned": PlannedEntryRow,
    "tick": TickEntryRow,
    "ticked": TickedEntryRow,
    "observation": ObservationEntryRow,
    "lot": LotEntryRow,
    "lot_event": LotEventEntryRow,
    "repair": RepairEntryRow,
}


def ledger_rows(record: Mapping[str, Any]) -> LedgerRow:
    """Return what ``ledger.ledger_data`` gives as rows."""
    tables = {name: tuple(_KINDS[name](**entry) for entry in entries) for name, entries in record["tables"].items()}
    return LedgerRow(format=record["format"], version=record["version"], tables=TablesRow(**tables))
