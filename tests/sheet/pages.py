"""What the page renderer laid out, read from its own boxes: where words and drawings stand, and what lies in what."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pytest
import weasyprint

from finplan.press import _page
from tests.printed_once import Printer

SLACK_PX = 2.0
"""Half a millimetre: letters of a line that is set close reach a little out of it."""
HEADINGS = ("h1", "h2", "h3", "h4")


@dataclass(frozen=True, slots=True)
class Placed:
    """A run of words, or a drawing, that has no words here; px from the corner of the paper."""

    words: str
    left: float
    top: float
    right: float
    bottom: float

    def within(self, left: float, top: float, right: float, bottom: float) -> bool:
        """Whether it lies in a rectangle."""
        across = left - SLACK_PX <= self.left and self.right <= right + SLACK_PX
        return across and top - SLACK_PX <= self.top and self.bottom <= bottom + SLACK_PX


@dataclass(frozen=True, slots=True)
class Page:
    """One page: a box of the renderer with questions that a test asks of it."""

    number: int
    box: Any

    @property
    def margins(self) -> tuple[float, float, float, float]:
        """The rectangle in which everything but the head and the foot belongs."""
        box = self.box
        return (
            box.margin_left,
            box.margin_top,
            box.margin_width() - box.margin_right,
            box.margin_height() - box.margin_bottom,
        )

    @property
    def section(self) -> str:
        """The part of the sheet that the page belongs to."""
        return self.sections[0]

    @property
    def sections(self) -> list[str]:
        """All parts of the sheet of which there is something on the page."""
        found = (box.element.get("class") for box in boxes(self._body) if box.element_tag == "section")
        return [str(name).split()[0] for name in found]

    @property
    def placed(self) -> list[Placed]:
        """Words and drawings, in the order in which they are read."""
        return placed(self._body)

    @property
    def head_and_foot(self) -> list[Placed]:
        """The words in the margins."""
        return [one for box in self.box.children if box is not self._body for one in placed(box)]

    @property
    def text(self) -> str:
        """The words of the page but for its head and foot, without any white space: lines break anywhere."""
        return "".join("".join(one.words.split()) for one in self.placed)

    @property
    def headings(self) -> list[list[Placed]]:
        """The words of each heading."""
        found = [box for box in boxes(self._body) if box.element_tag in HEADINGS and type(box).__name__ == "BlockBox"]
        return [words for box in found if (words := placed(box))]

    @property
    def tables(self) -> list[Any]:
        """The tables, or as much of them as stands on this page."""
        return [box for box in boxes(self._body) if type(box).__name__ == "TableBox" and box.element_tag == "table"]

    @property
    def _body(self) -> Any:
        return self.box.children[0]

    def orphans(self) -> list[str]:
        """Return the headings that have nothing but headings beside or below them."""
        of_headings = {one for heading in self.headings for one in heading}
        rest = [one for one in self.placed if one not in of_headings]
        return [
            heading[0].words
            for heading in self.headings
            if not any(one.bottom > heading[0].top + SLACK_PX for one in rest)
        ]

    def outside(self) -> list[str]:
        """Return the words and drawings that are not within the margins, or stand out of their cell of a table."""
        found = [one for one in self.placed if not one.within(*self.margins)]
        for cell in (box for box in boxes(self._body) if box.element_tag in ("th", "td")):
            left, right = cell.position_x, cell.position_x + cell.border_width()
            found += [one for one in placed(cell) if one.left < left - SLACK_PX or one.right > right + SLACK_PX]
        return [one.words for one in found]


def laid_out(html: str) -> list[Page]:
    """Return the pages of a sheet as they are printed."""
    fetcher = weasyprint.urls.URLFetcher(allowed_protocols={"data"})
    gc.disable()  # nearly all that is made is kept
    try:
        document = _page(weasyprint, html, fetcher).render()
    finally:
        gc.enable()
    return _pages(document)


def printed(html: str, printer: Printer) -> list[Page]:
    """Return the same of a sheet whose file others read: it is laid out once for both."""
    documents: list[Any] = []
    render = weasyprint.HTML.render

    def kept(*asked: Any, **more: Any) -> Any:
        documents.append(render(*asked, **more))
        return documents[-1]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(weasyprint.HTML, "render", kept)
        printer.pdf(html)
    return _pages(documents[0]) if documents else laid_out(html)


def _pages(document: Any) -> list[Page]:
    return [Page(number, page._page_box) for number, page in enumerate(document.pages, 1)]


def boxes(box: Any) -> Iterator[Any]:
    """Yield a box and all that lies in it."""
    yield box
    for child in getattr(box, "children", ()):
        yield from boxes(child)


def placed(within: Any) -> list[Placed]:
    """Return the words and drawings of a box."""
    return [
        Placed(getattr(box, "text", ""), left, top, left + box.width, top + box.height)
        for box in boxes(within)
        if getattr(box, "text", "").strip() or type(box).__name__ in ("BlockReplacedBox", "InlineReplacedBox")
        for left, top in [(box.content_box_x(), box.content_box_y())]
    ]


def head(table: Any) -> Any:
    """Return the head of a table, or None where it has none."""
    return next((group for group in table.children if group.is_header), None)
