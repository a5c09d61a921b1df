"""Plan the finish of a piece of furniture: surfaces, coats, quantities, grits, timetable and the printed sheet."""

__version__ = "0.1.0"
