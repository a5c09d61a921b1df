"""The keys of what is dangerous, and what is done about it."""

from __future__ import annotations

from datetime import datetime
from typing import Literal

from finplan.catalogue import Moment
from finplan.data.material_rows import ConsumableRow
from finplan.data.row import CountFromOne, NotNegative, WholeNumber, row
from finplan.data.session_rows import SessionRow
from finplan.quantity import Range
from finplan.safety import VocStanding


@row
class CautionRow:
    """Caution."""

    code: str
    """Its name in the catalogue."""
    when: Moment
    """When it matters."""
    text: str
    """What to do."""
    reason: str
    """Why."""
    source: str
    """On whose word, a key of `sources`."""
    rank: CountFromOne
    """1 is the worst danger."""
    title: str
    """In few words."""
    because: tuple[str, ...]
    """What in this plan calls for it."""
    comes_first: str
    """What comes before it: local codes, the label, the safety data sheet, licensed practice."""
    rows: tuple[str, ...]
    """The ids of the rows of the timetable in which it applies."""


@row
class CircumstanceRow:
    """Circumstance."""

    danger: str
    """What is there, as the cautions of the catalogue name it."""
    cause: str
    """What brings it."""
    rows: tuple[str, ...]
    """The ids of the rows of the timetable in which it is there; none where it belongs to none."""
    people: tuple[str, ...]
    """Who works there."""
    rooms: tuple[str, ...]
    """Where."""
    start: datetime | None
    """When the first of its rows begins."""
    end: datetime | None
    """When the last of them ends."""


@row
class RowCareRow:
    """Safety of a row."""

    row: str
    """The id of the row of the timetable."""
    person: str | None
    """Who does it."""
    cautions: tuple[str, ...]
    """The codes of those that apply in it."""
    uses: tuple[str, ...]
    """The consumables that it asks for, names in the catalogue."""
    needs: tuple[str, ...]
    """The equipment that it asks for, names in the catalogue."""
    worn: str
    """What is worn, in words."""
    before: tuple[str, ...]
    """What is ticked before it is begun."""
    mind: tuple[str, ...]
    """What is minded in it."""
    air: tuple[str, ...]
    """What is reckoned of the air in it."""


@row
class HadRow:
    """Equipment."""

    name: str
    """A name in the catalogue."""
    title: str
    """In words."""
    count: CountFromOne
    """One for each who wears it, else one."""
    people: tuple[str, ...]
    """Who wears it."""
    rows: tuple[str, ...]
    """The ids of the rows that ask for it."""


@row
class UsedForSafetyRow:
    """Used for safety."""

    need: ConsumableRow
    """How much of what, and the packs."""
    rows: tuple[str, ...]
    """The ids of the rows that use it."""


@row
class GearRow:
    """Gear."""

    have: tuple[HadRow, ...]
    """Equipment to have in the shop."""
    buy: tuple[UsedForSafetyRow, ...]
    """Consumables that are worn or used."""


@row
class DustLimitRow:
    """Limit of dust."""

    jurisdiction: str
    """Whose limit it is."""
    limit_mg_m3: NotNegative
    """As a mean over a working day. [mg/m³]"""
    in_the_air_g: NotNegative | None
    """How little hangs in the air of that room then. [g]"""
    source: str
    """On whose word, a key of `sources`."""


@row
class DustRow:
    """Dust."""

    dust_g: Range
    """What is made. [g]"""
    room: str | None
    """Where it is sanded."""
    room_m3: NotNegative | None
    """The volume of that room. [m³]"""
    limits: tuple[DustLimitRow, ...]
    """What the air may hold, the strictest first."""
    extractor: str
    """The class of extractor that it calls for."""
    extractor_passes_pct: NotNegative
    """How much such a one lets through at most. [%]"""
    extractor_source: str
    """On whose word, a key of `sources`."""


@row
class OilyWasteRow:
    """Oily waste."""

    step: str
    """The id of the coat."""
    finish: str
    """The finish, a name in the catalogue."""
    cloths: WholeNumber
    """How many, at most."""
    can_ml: NotNegative
    """The room that they take under water. [ml]"""


@row
class TickRow:
    """Tick."""

    due: datetime
    """When."""
    after: str | None
    """The id of the step after which; null at the end of a day."""
    text: str
    """What."""


@row
class CartridgesRow:
    """Cartridges."""

    person: str
    """Who wears the mask."""
    steps: tuple[str, ...]
    """The ids of the steps in which it is worn."""
    worn_h: NotNegative
    """How long the mask is worn in all. [h]"""
    life_h: Range
    """How long cartridges last. [h]"""
    source: str
    """On whose word, a key of `sources`."""


@row
class VocRow:
    """Limit of organic vapour."""

    finish: str
    """The finish, a name in the catalogue."""
    jurisdiction: str
    """Whose limit it is."""
    category: str
    """Of what."""
    limit_g_l: NotNegative
    """Ready to use. [g/l]"""
    voc_g_l: Range
    """What this type of finish holds, as the rule counts it. [g/l]"""
    standing: VocStanding
    """Whether all, some or none of what this type of finish holds is within the limit."""
    source: str
    """On whose word, a key of `sources`."""


@row
class ContactRow:
    """Contact."""

    item: str
    """The item, with the key of its piece before it."""
    finish: str
    """Its last coat, a name in the catalogue."""
    contact: Literal["food", "child"]
    """With what."""
    text: str
    """What is published."""
    source: str
    """On whose word, a key of `sources`."""
    cured: datetime | None
    """When it has cured fully."""


@row
class SafetyRow:
    """Safety."""

    format: Literal["finplan-safety/1"]
    """Says what this is."""
    sessions: tuple[SessionRow, ...]
    """Coating sessions with their vapour and air."""
    to_measure: str
    """What to measure where nothing is known of a room's air, and how the answer would change; empty elsewhere."""
    cautions: tuple[CautionRow, ...]
    """What is printed, the worst danger first."""
    worst: tuple[str, ...]
    """The codes of the cautions that stand on the first page."""
    circumstances: tuple[CircumstanceRow, ...]
    """Which danger is there in which rows; all that is said and needed is read from these."""
    rows: tuple[RowCareRow, ...]
    """What rows of the timetable ask for."""
    gear: GearRow
    """What is had and bought for safety."""
    dust_g: NotNegative
    """The most dust that is counted on. [g]"""
    dust: DustRow
    """What that means."""
    oily_waste: tuple[OilyWasteRow, ...]
    """Cloths that can catch fire by themselves."""
    ticks: tuple[TickRow, ...]
    """What has to be done when it falls due."""
    cartridges: tuple[CartridgesRow, ...]
    """Of the masks against vapour, of everybody who wears one."""
    voc: tuple[VocRow, ...]
    """Limits of organic vapour, for information."""
    contact: tuple[ContactRow, ...]
    """What is published on food and children."""
