"""From a Plan to one page of HTML that needs nothing beside itself."""

from __future__ import annotations

from functools import cache

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from finplan.plan import Plan
from finplan.resources import data_dir
from finplan.sheet.fonts import font_faces
from finplan.sheet.view import Sheet, sheet_of


@cache
def _environment() -> Environment:
    return Environment(
        loader=FileSystemLoader(data_dir("templates")),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def sheet_html(plan: Plan) -> str:
    """Return the printed sheet of a plan, styles and fonts inside it."""
    return render(sheet_of(plan))


def render(sheet: Sheet) -> str:
    """Return a sheet as HTML. What the maker wrote is text in it and nothing else."""
    # Only our own files go in unescaped: escaping would turn the quotation marks of the rules into character codes.
    style = Markup((data_dir("templates") / "sheet.css").read_text(encoding="utf-8"))  # noqa: S704
    return (
        _environment()
        .get_template("sheet.html")
        .render(
            sheet=sheet,
            style=style,
            fonts=Markup(font_faces()),  # noqa: S704
        )
    )
