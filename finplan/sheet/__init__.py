"""The printed finishing schedule: a Plan as HTML."""

from finplan.sheet.days import OnlyDays
from finplan.sheet.html import appendix_html, sheet_html
from finplan.sheet.letters import unprintable
from finplan.sheet.picture_svg import picture_svg

__all__ = ["OnlyDays", "appendix_html", "picture_svg", "sheet_html", "unprintable"]
