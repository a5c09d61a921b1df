"""The printed finishing schedule: a Plan as HTML, and that as PDF."""

from finplan.sheet.html import sheet_html
from finplan.sheet.letters import unprintable
from finplan.sheet.pdf import NoPageRendererError, write_pdf

__all__ = ["NoPageRendererError", "sheet_html", "unprintable", "write_pdf"]
