"""The printed finishing schedule: a Plan as HTML."""

from finplan.sheet.html import sheet_html
from finplan.sheet.letters import unprintable
from finplan.sheet.picture_svg import picture_svg

__all__ = ["picture_svg", "sheet_html", "unprintable"]
