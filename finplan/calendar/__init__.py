"""A plan as a calendar file; alone, since it brings a library that no other output needs."""

from finplan.calendar.file import plan_calendar

__all__ = ["plan_calendar"]
