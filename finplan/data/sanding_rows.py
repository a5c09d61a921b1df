"""The keys of how a piece is sanded."""

from __future__ import annotations

from typing import Literal

from finplan.catalogue import StepDeed
from finplan.data.row import CountFromOne, NotNegative, WholeNumber, row
from finplan.quantity import Range
from finplan.sanding import OrderDeed, SandingStage


@row
class FallRow:
    """Fall."""

    from_: str
    """The coarser grit."""
    to: str
    """The finer one."""
    ratio: NotNegative
    """Of their grain sizes."""


@row
class VeneerRow:
    """Veneer."""

    thickness_mm: NotNegative
    """Of the veneer. [mm]"""
    budget_mm: NotNegative
    """How much of it may be sanded off. [mm]"""
    depth_mm: Range
    """How much is. [mm]"""


@row
class AbrasiveUseRow:
    """Use of an abrasive."""

    product: str
    """Disc, sheet, …."""
    low: NotNegative
    """The 5th percentile. [pieces]"""
    typical: NotNegative
    """The 50th. [pieces]"""
    high: NotNegative
    """The 95th. [pieces]"""


@row
class GritRow:
    """Grit."""

    grit: str
    """The grade, as the shop calls it."""
    p_grade: str
    """On the P scale, or the nearest there."""
    cami: str
    """On the CAMI scale, or the nearest there."""
    size_um: NotNegative
    """The mean size of its grains. [µm]"""
    method: str
    """With what, a name in the catalogue."""
    minutes: Range
    """How long, without picking up. [min]"""
    use: AbrasiveUseRow
    """What is used up."""
    dust_g: Range
    """The wood it takes off. [g]"""


@row
class SandedFacesRow:
    """Faces sanded alike."""

    faces: tuple[str, ...]
    """The faces."""
    surface: str
    """How they come to the bench, a name in the catalogue."""
    exposure: Literal["show", "secondary"]
    """`show` is looked at; `secondary` is finished, but not looked at."""
    area_m2: NotNegative
    """Of all such parts together. [m²]"""
    steps: tuple[GritRow, ...]
    """The grits, in order."""
    stop_reason: str
    """Where it ends, and why."""
    cap: NotNegative
    """How many times smaller the grain may become from one grit to the next."""
    beyond_cap: tuple[FallRow, ...]
    """Where the grades at hand leave no other way than to pass it."""
    buy: tuple[str, ...]
    """Grades that would mend that."""
    mended: tuple[str, ...]
    """The grits with them; empty where none is missing."""
    veneer: VeneerRow | None
    """What may be sanded off; null for solid wood."""
    note: str | None
    """What to know."""


@row
class SandedPartRow:
    """Sanded part."""

    part: str
    """Its name."""
    handling_minutes: Range
    """Picking up and turning all of them, once for each grit; not in the minutes of the grits. [min]"""
    groups: tuple[SandedFacesRow, ...]
    """Faces that are sanded alike."""


@row
class LaterSandingRow:
    """Later sanding."""

    id: str
    """Of the step of its treatment."""
    item: str
    """The item."""
    do: StepDeed
    """What is done."""
    label: str
    """As it stands on the sheet."""
    grit: str | None
    """With which; null where nothing is abraded."""
    size_um: NotNegative | None
    """The mean size of its grains. [µm]"""
    method: str | None
    """With what, a name in the catalogue."""
    minutes: Range
    """How long. [min]"""
    note: str | None
    """What to know."""


@row
class SandingOrderRow:
    """Order of sanding."""

    id: str
    """Known by it everywhere in the document."""
    item: str
    """The item."""
    stage: SandingStage
    """Before or after the parts of an assembly are glued up; `loose`: on a part that belongs to none."""
    do: OrderDeed
    """`sand` bare wood, go over the `joints`, `mask` faces that are to be glued."""
    label: str
    """As it stands on the sheet."""
    faces: tuple[str, ...]
    """Which faces."""
    joints: WholeNumber
    """How many joints are gone over; else 0."""
    minutes: Range
    """How long, with its share of picking up. [min]"""
    reason: str
    """Why then."""


@row
class AbrasivePacksRow:
    """Packs of an abrasive."""

    packs: WholeNumber
    """How many packs."""
    of: CountFromOne
    """How many pieces are in one."""


@row
class AbrasiveRow:
    """Abrasive."""

    product: str
    """Disc, sheet, …."""
    grit: str
    """The grade, as the shop calls it."""
    p_grade: str
    """On the P scale, or the nearest there."""
    cami: str
    """On the CAMI scale, or the nearest there."""
    needed: Range
    """How many. [pieces]"""
    packs: tuple[AbrasivePacksRow, ...]
    """In packs that exist, were none on the shelf: what is bought is said by the materials."""


@row
class RoomDustRow:
    """Dust in the room."""

    where: str
    """Whose limit it is."""
    limit_mg_m3: NotNegative
    """As a mean over a working day. [mg/m³]"""
    in_the_air_g: NotNegative | None
    """How little hangs in the air of that room then. [g]"""


@row
class ExtractionRow:
    """Extraction."""

    extractor: str
    """The class of extractor that this dust calls for."""
    passes_pct: NotNegative
    """How much such a one lets through at most. [%]"""
    room: str | None
    """Where it is sanded."""
    volume_m3: NotNegative | None
    """Of that room. [m³]"""
    limits: tuple[RoomDustRow, ...]
    """What the air may hold."""


@row
class SandingRow:
    """Sanding."""

    format: Literal["finplan-sanding/1"]
    """Says what this is."""
    parts: tuple[SandedPartRow, ...]
    """The parts with their grits on bare wood."""
    later: tuple[LaterSandingRow, ...]
    """What is raised, abraded and rubbed out between the coats and after them."""
    order: tuple[SandingOrderRow, ...]
    """In which order the bare wood is sanded, item by item."""
    abrasives: tuple[AbrasiveRow, ...]
    """What is used up."""
    buy_grits: tuple[str, ...]
    """Grades that the shop lacks."""
    dust_g: Range
    """The dust that is made. [g]"""
    extraction: ExtractionRow
    """Where the dust goes; of several pieces the same for all."""
