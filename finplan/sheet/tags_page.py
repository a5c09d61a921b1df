"""From the tags of a plan to a page of labels."""

from __future__ import annotations

from finplan.inputs.labels import PAPER_MM, Labels
from finplan.plan import Plan
from finplan.sheet.html import filled
from finplan.sheet.tags import pages, tags
from finplan.sheet.words import listed


def tags_html(plan: Plan, labels: Labels, first: int = 1) -> str:
    """Return the part tags of a plan on sheets of labels, styles and fonts inside the page.

    Parameters
    ----------
    plan
        One that fits
    labels
        The sheet of labels, large enough on the plan's paper
    first
        The first free label of a sheet that is begun, from 1, row by row
    """
    sheets = pages(tags(plan), labels, plan.paper, first)
    placed = [one for sheet in sheets for one in sheet]
    return filled(
        "tags",
        name=listed(piece.name for piece in plan.pieces),
        version=plan.version,
        page_size="A4" if plan.paper == "a4" else "Letter",
        paper_mm=PAPER_MM[plan.paper],
        cut_lines=labels.cut_lines,
        pages=sheets,
        places=list(dict.fromkeys(one.place for one in placed)),
        sizes=list(dict.fromkeys(one.sizes for one in placed)),
    )
