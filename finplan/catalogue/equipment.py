"""Equipment for safety: what a shop has, and is worn or stands ready."""

from finplan.catalogue.record import Sourced
from finplan.reading import Name, Title


class Equipment(Sourced):
    """Something that lasts and keeps a person or the shop from harm. What is worn each has; of the rest one does."""

    called: Title
    """What a row of work calls it."""
    worn: bool = False
    """It is worn; else it stands ready."""
    holds: bool = False
    """It holds cartridges and filters."""
    covers: tuple[Name, ...] = ()
    """Equipment that is not asked for beside it."""
    spares: tuple[Name, ...] = ()
    """Consumables that are not asked for beside it."""
