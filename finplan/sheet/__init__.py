"""The printed finishing schedule: a Plan as HTML."""

from finplan.sheet.html import sheet_html
from finplan.sheet.letters import unprintable

__all__ = ["sheet_html", "unprintable"]
