"""Plan the finish of a piece of furniture: surfaces, coats, quantities, grits, timetable and the printed sheet."""

from finplan.version import __version__

__all__ = ["__version__"]
