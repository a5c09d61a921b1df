"""The printed finishing schedule: a Plan as HTML."""

from finplan.sheet.days import OnlyDays
from finplan.sheet.html import appendix_html, sheet_html
from finplan.sheet.letters import unprintable
from finplan.sheet.picture_svg import picture_svg
from finplan.sheet.view import Sheet, sheet_of

__all__ = ["OnlyDays", "Sheet", "appendix_html", "picture_svg", "sheet_html", "sheet_of", "unprintable"]
