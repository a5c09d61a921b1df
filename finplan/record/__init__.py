"""The record of a job joined with its plan: plans that are held, what was known for them, what is ticked."""

from finplan.record.asked import Asked
from finplan.record.held import Making, completed, kept_plan, read_plan

__all__ = ["Asked", "Making", "completed", "kept_plan", "read_plan"]
