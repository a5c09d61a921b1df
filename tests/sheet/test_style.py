"""Rules of the style sheet without which a page is spoilt: each is taken away once, and the layout tests notice."""

from __future__ import annotations

import pytest

from finplan.resources import data_dir
from tests.sheet.pages import Page, laid_out

LONG = "Donaudampfschifffahrtselektrizitätenhauptbetriebswerkbauunterbeamtengesellschaftsvorstandszimmerschlüssel"
KEPT_BEHIND = "break-after: avoid; "
AS_BROWSERS = "h1, h2, h3, h4 { break-after: auto; break-inside: auto }"
"""What the renderer keeps together by itself browsers do not, and the sheet is printed from those too."""
BROKEN = ".maker { overflow-wrap: anywhere; }"


def laid(body: str, without: str = "") -> list[Page]:
    """The pages of a body in the sheet's own style, or *without* one of its declarations."""
    files = (data_dir("templates") / f"{name}.css" for name in ("sheet", "first_page"))
    style = "".join(file.read_text(encoding="utf-8") for file in files)
    assert without in style
    style = style.replace(without, "")
    return laid_out(
        f"<!DOCTYPE html><html lang=en><style>{AS_BROWSERS} {style} @page {{ size: A4 }}</style><body>{body}"
    )


@pytest.mark.parametrize("heading", ["h1", "h2", "h3"])
def test_a_heading_goes_over_with_what_it_heads(heading: str) -> None:
    above, below = (
        "<div style='height: 240mm'>Above.</div>",
        "<div style='break-inside: avoid; height: 60mm'>Below.</div>",
    )
    body = f"{above}<{heading}>Left behind</{heading}>{below}"
    assert [page.orphans() for page in laid(body)] == [[], []]
    assert [page.orphans() for page in laid(body, KEPT_BEHIND)] == [["Left behind"], []]


def test_a_long_name_breaks_in_a_column_that_is_as_wide_as_its_words() -> None:
    cells = "<td>Thu 28 Jan 09:20<td>Wed 10 Feb 01:00<td>Fri 12 Feb 15:00<td>19 of 20"
    body = f"<table class=pieces><tr><td class=key>A<td class=maker>{LONG}{cells}</table>"
    assert [page.outside() for page in laid(body)] == [[]]
    assert any(page.outside() for page in laid(body, BROKEN))
