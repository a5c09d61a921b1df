"""The page as HTML: whole by itself, well formed, and what the maker wrote is text in it."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from xml.etree import ElementTree

import pytest

from finplan.planning import Plan
from finplan.resources import data_dir
from finplan.sheet import sheet_html, unprintable

VOID = {"meta", "br", "col", "input"}


class Outline(HTMLParser):
    """Follows every tag, and holds that each is closed in its turn."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.words: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        assert len(dict(attrs)) == len(attrs), f"an attribute of {tag} stands twice"
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open, f"{tag} is closed and was never opened"
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if not self.open or self.open[-1] != "style":
            self.words.append(data)


def outline(html: str) -> Outline:
    found = Outline()
    found.feed(html)
    found.close()
    return found


@pytest.mark.parametrize("name", ["table", "hostile"])
def test_well_formed(name: str, request: pytest.FixtureRequest) -> None:
    html = sheet_html(request.getfixturevalue(name))
    found = outline(html)
    assert found.open == []
    for svg in re.findall(r"<svg.*?</svg>", html, flags=re.DOTALL):
        drawing = ElementTree.fromstring(svg)  # noqa: S314
        title = drawing.find("{http://www.w3.org/2000/svg}title")
        assert title is not None
        assert title.text


@pytest.mark.parametrize("name", ["table", "hostile"])
def test_rows_have_as_many_cells_as_their_table_has_columns(name: str, request: pytest.FixtureRequest) -> None:
    html = sheet_html(request.getfixturevalue(name))
    for table in re.findall(r"<table.*?</table>", html, flags=re.DOTALL):
        widths = set()
        above: list[tuple[int, int]] = []  # cells that reach down from rows above: columns, and rows still to come
        for row in re.findall(r"<tr.*?</tr>", table, flags=re.DOTALL):
            cells = re.findall(r"<t[hd]\b([^>]*)>", row)
            own = [(_span("colspan", cell), _span("rowspan", cell)) for cell in cells]
            widths.add(sum(columns for columns, _ in (*above, *own)))
            above = [(columns, rows - 1) for columns, rows in (*above, *own) if rows > 1]
        assert len(widths) == 1
        assert above == []


def _span(name: str, cell: str) -> int:
    found = re.search(rf'{name}="(\d+)"', cell)
    return int(found.group(1)) if found else 1


def test_it_needs_nothing_beside_itself(hostile: Plan) -> None:
    html = sheet_html(hostile)
    found = outline(html)
    assert {tag for tag, _ in found.tags} & {"img", "link", "iframe", "object", "b", "i"} == set()
    assert not [attrs for _, attrs in found.tags if {"src", "style", "onload"} & set(attrs)]
    (script,) = re.findall(r"<script>\n(.*?)</script>", html, flags=re.DOTALL)
    assert [tag for tag, _ in found.tags].count("script") == 1
    assert script.strip() == (data_dir("templates") / "ticks.js").read_text(encoding="utf-8").strip(), (
        "ours, whatever the plan"
    )
    for reaches_out in ("http", "fetch", "XMLHttp", "import", "WebSocket", "sendBeacon", "innerHTML", "eval"):
        assert reaches_out not in script
    places = {attrs.get("id") for _, attrs in found.tags}
    links = [attrs["href"] or "" for _, attrs in found.tags if "href" in attrs]
    assert links
    assert all(one.startswith("#") and one[1:] in places for one in links), "from the front to the days, nowhere else"
    assert set(re.findall(r'url\("(.*?),', html)) == {"data:font/otf;base64"}


def test_hostile_names_are_words(hostile: Plan) -> None:
    words = "".join(outline(sheet_html(hostile)).words)
    assert "<script>alert(1)</script> <img src=http://example.invalid/x.png> file:///etc/passwd {{ 7*7 }}" in words
    assert "</style><link rel=stylesheet href=file:///etc/hosts>" in words
    assert "<b>lid</b> & an-unbreakably-long-name" in words


def test_the_rules_of_style_are_not_escaped(table: Plan) -> None:
    for style in re.findall(r"<style>(.*?)</style>", sheet_html(table), flags=re.DOTALL):
        assert "&#" not in style
        assert "&quot;" not in style
    assert 'content: "Page " counter(page) " of " counter(pages)' in sheet_html(table)


def test_same_plan_same_page(table: Plan) -> None:
    assert sheet_html(table) == sheet_html(table)


def test_characters_that_the_font_lacks_are_named(table: Plan, hostile: Plan, foreign: Plan) -> None:
    assert unprintable(table) == unprintable(hostile) == ""
    assert unprintable(foreign) == "ไทย"


SECTIONS = ("first_page", "days", "safety", "sanding", "buying", "care", "faults", "appendix")


def _classes(template: str) -> set[str]:
    """The classes that a template gives, also those that it chooses."""
    given = re.findall(r'class="((?:{{.*?}}|[^"])*)"', template)
    plain = (re.sub(r"{{.*?}}", lambda found: " ".join(re.findall(r'"([^"]*)"', found[0])), one) for one in given)
    return {name for one in plain for name in one.split()}


def test_the_styles_of_a_section_do_not_reach_into_another() -> None:
    """A rule for the sessions of the air once kept whole sessions of a day on one page."""
    folder = data_dir("templates")
    given = {name: _classes((folder / f"{name}.html").read_text(encoding="utf-8")) for name in SECTIONS}
    assert "close" in given["days"] & given["safety"]
    for name in SECTIONS:
        css = re.sub(r"/\*.*?\*/", "", (folder / f"{name}.css").read_text(encoding="utf-8"), flags=re.DOTALL)
        heads = {
            found
            for selectors in re.findall(r"([^{}]+){", css)
            for found in re.findall(r"(?:^|,)\s*\.([a-z-]+)", selectors)
        }
        others = {other: heads & classes for other, classes in given.items() if other != name}
        assert not any(others.values()), (name, others)
