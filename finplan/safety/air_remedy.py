"""What could be done about the air of a session, as facts; telling words them."""

from __future__ import annotations

from dataclasses import dataclass

from finplan.safety.room_air import AirField


@dataclass(frozen=True, slots=True)
class BreatheBySheet:
    """A hardener holds isocyanate, for which no fresh air answers: what the safety data sheet demands is worn."""


@dataclass(frozen=True, slots=True)
class OnlyInBooth:
    """It is sprayed in a booth or not at all: how fast the rule asks its air to be, and what one then draws."""

    velocity_m_s: float
    face_m2: float
    """Of one of the usual size."""
    flow_m3_h: float


@dataclass(frozen=True, slots=True)
class MeasureAir:
    """Fields of the room are measured that the shop file does not give."""

    fields: tuple[AirField, ...]
    nothing_known: bool
    """Whether nobody knows what air the room gets; else what is known is counted."""


@dataclass(frozen=True, slots=True)
class LimitNotKnown:
    """What may be breathed of a solvent is not known: its safety data sheet says what is worn."""


@dataclass(frozen=True, slots=True)
class NotLikeThis:
    """It is not begun: the vapour would come nearer to what burns than the rule allows."""


@dataclass(frozen=True, slots=True)
class SplitSession:
    """Its coats are put on one after another, each by itself: then the air does for each."""


@dataclass(frozen=True, slots=True)
class PutOnLess:
    """Less is put on at a time: no fresh air in the room does, since it stands within reach of the work."""

    against_fire: bool
    """Whether it is what burns that asks for it; else what may be breathed."""


@dataclass(frozen=True, slots=True)
class DrawMore:
    """A fan draws more. [m³/h]"""

    more_m3_h: float
    whole_m3_h: float
    """With what it draws now."""


@dataclass(frozen=True, slots=True)
class NoFanDoes:
    """More air would have to be drawn than any fan of a shop draws out of a room of its size. [m³/h]"""

    whole_m3_h: float
    air_changes: float
    """How often an hour that would change the air of the room."""


@dataclass(frozen=True, slots=True)
class NoMaskDoes:
    """There is more vapour than any mask with cartridges does for."""


@dataclass(frozen=True, slots=True)
class WearMask:
    """A mask is worn that does for what the air may hold."""

    respirator: str
    """A name in the catalogue's respirators."""
    breathing: float
    """The most that the air may hold, of what may be breathed."""


AirRemedy = (
    BreatheBySheet
    | OnlyInBooth
    | MeasureAir
    | LimitNotKnown
    | NotLikeThis
    | SplitSession
    | PutOnLess
    | DrawMore
    | NoFanDoes
    | NoMaskDoes
    | WearMask
)
