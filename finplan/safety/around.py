"""Where the work is done: the shop with its rooms, and the records."""

from __future__ import annotations

from dataclasses import dataclass

from finplan.catalogue import Catalogue
from finplan.inputs import Shop
from finplan.safety.room_air import RoomAir, room_air


@dataclass(frozen=True, slots=True)
class Around:
    """Where the work is done, and what else is known."""

    catalogue: Catalogue
    shop: Shop
    rooms_given: bool
    """Whether the shop file speaks of its rooms; the rooms of the default shop are nobody's."""

    def air_of(self, room: str | None) -> RoomAir:
        """Return the air of a room, by its name."""
        given = self.shop.rooms.get(room or "") if self.rooms_given else None
        return room_air(given, self.catalogue)
