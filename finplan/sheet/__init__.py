"""The printed finishing schedule: a Plan as HTML, and that as PDF."""

from finplan.sheet.html import sheet_html
from finplan.sheet.letters import unprintable
from finplan.sheet.pdf import write_pdf
from finplan.sheet.tags_page import tags_html

__all__ = ["sheet_html", "tags_html", "unprintable", "write_pdf"]
