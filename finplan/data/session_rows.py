"""The keys of the air of a coating session."""

from __future__ import annotations

from datetime import datetime
from typing import Literal

from finplan.data.row import NotNegative, row
from finplan.quantity import Range
from finplan.safety import AgainstLimit, AirVerdict, ConditionKind, Purpose


@row
class AirRow:
    """Fresh air."""

    fire: NotNegative | None
    """To stay below what burns, by the rule; null where no flow does."""
    health: NotNegative | None
    """To stay below what harms; null where no limit is known or no flow does."""
    fire_target: NotNegative | None
    """To stay below the share of what burns that the sheet keeps to; null where no flow does."""


@row
class ConditionRow:
    """Condition."""

    kind: ConditionKind
    """The fan of the room; doors and windows; a spray booth; a mask with cartridges; what the safety data sheet
    demands."""
    steps: tuple[str, ...]
    """The ids of the steps that rest on it."""
    text: str
    """What is ticked."""


@row
class ExposureRow:
    """Shares of the limits."""

    fire: NotNegative
    """Of the lower flammable limit, at the worst moment near the work; 1 is at the limit."""
    fire_far: NotNegative
    """The same in the whole room."""
    short: NotNegative | None
    """Of what may be breathed for a short time, in the worst 15 minutes of who works; null where no limit is known."""
    short_far: NotNegative | None
    """The same elsewhere in the room."""
    day: NotNegative | None
    """Of what may be breathed all day, in the worst 8 hours of who works."""
    day_far: NotNegative | None
    """The same elsewhere in the room."""


@row
class AirHeldRow:
    """What the air holds."""

    flow_m3_h: NotNegative
    """The fresh air. [m³/h]"""
    verdict: AirVerdict
    """As of the session, with this flow."""
    against_fire: Literal["ok", "close", "over"]
    """`close`: above what is planned for, within the rule; `over`: above the rule."""
    to_breathe: AgainstLimit
    """`ok`: with a margin even at the most; `close`: with a margin as it usually goes; `over`: above that."""
    typical: ExposureRow
    """As it usually goes."""
    high: ExposureRow
    """At the most that may be used, in the stillest air."""


@row
class AiringRow:
    """Airing."""

    before: Purpose
    """What the air has to be fit for."""
    hours: NotNegative | None
    """After the last coat; null where it cannot be said. [h]"""
    from_: datetime | None
    """From when it is fit."""


@row
class SandedTooEarlyRow:
    """Sanded too early."""

    step: str
    """Its id."""
    start: datetime
    """When it is planned."""


@row
class SessionRow:
    """Coating session."""

    start: datetime | None
    """When it begins; null where it has no place in time."""
    steps: tuple[str, ...]
    """The ids of its steps."""
    vapour_g: NotNegative
    """The most that is set free. [g]"""
    air_m3: AirRow
    """The fresh air that it takes in all. [m³]"""
    room_gives_m3_h: NotNegative | None
    """What the room's air changes, its fan and the booth in use give; null where nobody said. [m³/h]"""
    verdict: AirVerdict
    """Whether the air that the room gives does: `not by air alone`: what is sprayed or hardens asks for more than
    air; `too little to breathe`: only behind a mask; `above the planning target`: nearer to what burns than is
    planned for; `fire danger`: nearer than the rule allows; `unknown`: a figure is missing."""
    conditions: tuple[ConditionRow, ...]
    """What is ticked before the tin is opened: that the verdict holds rests on it."""
    remedies: tuple[str, ...]
    """What would help."""
    room: str
    """Where."""
    room_m3: NotNegative | None
    """Its volume. [m³]"""
    fan_m3_h: NotNegative
    """What of that its fan gives; 0 where it has none. [m³/h]"""
    booth_m3_h: NotNegative | None
    """What the spray booth draws in which it is done; null where it is done in none. [m³/h]"""
    fan_on: AirHeldRow | None
    """What the air holds with all of that; null where nothing is known of the room."""
    fan_off: AirHeldRow | None
    """The same without the fan; null where there is none, or nothing is known without it."""
    mask: str | None
    """What is worn against the vapour, a name in the catalogue's respirators; null where none is."""
    vapour_until: datetime | None
    """When the last is in the air."""
    vapour_g_range: Range
    """What is set free. [g]"""
    solvents_g: dict[str, Range]
    """The same by solvent, a name in the catalogue. [g]"""
    needs_m3_h: AirRow
    """The least flow with which the room would do. [m³/h]"""
    air_after: tuple[AiringRow, ...]
    """How long to air before what."""
    sanded_too_early: tuple[SandedTooEarlyRow, ...]
    """Sanding that is planned before the air is fit for it."""
