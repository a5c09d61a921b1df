"""Setting words on paper: the bundled fonts, how wide words are, and pages that carry all they need."""

from finplan.typesetting.css_text import css_text
from finplan.typesetting.estimate import estimated_em
from finplan.typesetting.fonts import lacking
from finplan.typesetting.measure import leading, lines_taken, width_em
from finplan.typesetting.page import filled, rendered
from finplan.typesetting.pdf import write_pdf

__all__ = [
    "css_text",
    "estimated_em",
    "filled",
    "lacking",
    "leading",
    "lines_taken",
    "rendered",
    "width_em",
    "write_pdf",
]
