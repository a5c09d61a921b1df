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
    return filled("sheet", sheet=sheet)


def filled(template: str, **values: object) -> str:
    """Return a template with its style sheet of the same name and the fonts that its words need inside it."""
    # Only our own files go in unescaped: escaping would turn the quotation marks of the rules into character codes.
    style = Markup((data_dir("templates") / f"{template}.css").read_text(encoding="utf-8"))  # noqa: S704
    page = _environment().get_template(f"{template}.html")
    fonts = Markup(font_faces(page.render(**values, style=style, fonts="")))  # noqa: S704
    return page.render(**values, style=style, fonts=fonts)
