"""Where sanding and wet coats share a room: which coats that concerns, and how long dust settles before one goes on."""

from __future__ import annotations

from finplan.catalogue import Catalogue
from finplan.inputs import RoomUse, Shop


def room_of(shop: Shop, use: RoomUse) -> str:
    """Return the room in which something is done; where none is meant for it, the one next best."""
    fallback: RoomUse = "sanding" if use == "assembly" else "coating"
    return shop.room_for(use) or shop.room_for(fallback) or next(iter(shop.rooms))


def is_dusty(shop: Shop, use: RoomUse) -> bool:
    """Return whether what is put on there goes on, or dries, in the room in which wood is sanded."""
    return room_of(shop, "sanding") in (room_of(shop, use), room_of(shop, "drying"))


def settling_h(shop: Shop, catalogue: Catalogue, use: RoomUse) -> float:
    """Return how long dust is let to settle after sanding before a coat is begun: 0 where it does not get there. [h]

    It does not where wood is sanded in another room, or where extraction at its bench draws the dust off.

    Parameters
    ----------
    shop, catalogue
        The rooms; ``let-dust-settle`` among the work of the catalogue, of which the typical wait is planned
    use
        What the room is for in which the coat is put on: ``coating`` or ``spraying``
    """
    wait_h = catalogue.work["let-dust-settle"].wait_h
    if wait_h is None or not is_dusty(shop, use) or shop.rooms[room_of(shop, "sanding")].extraction is not None:
        return 0.0
    return wait_h.typical
