"""What buying goes by."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from finplan.catalogue import Catalogue, PackChoice
from finplan.inputs import ShelfItem
from finplan.quantity import Units


@dataclass(frozen=True, slots=True)
class Market:
    """What buying goes by: the records, the shelf, the system of units, how sure, and when it is needed."""

    catalogue: Catalogue
    shelf: tuple[ShelfItem, ...]
    units: Units
    confidence: float
    day: date

    @property
    def choice(self) -> PackChoice:
        """How packs are chosen."""
        return self.catalogue.pack_choice["common"]

    def of_finish(self, name: str) -> list[ShelfItem]:
        """Return what stands on the shelf of a finish."""
        return [item for item in self.shelf if item.finish == name]
