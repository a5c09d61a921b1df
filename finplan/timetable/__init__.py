"""The timetable: who does what when, how late it may start, and what clashes."""

from finplan.timetable.operation import Operation, coating_hours, operations
from finplan.timetable.plan import Clash, Job, Timetable, TimetableStep, WouldFit, delivery_time
from finplan.timetable.solve import solve

__all__ = [
    "Clash",
    "Job",
    "Operation",
    "Timetable",
    "TimetableStep",
    "WouldFit",
    "coating_hours",
    "delivery_time",
    "operations",
    "solve",
]
