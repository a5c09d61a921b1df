"""From HTML to a PDF file, written whole or not at all."""

from __future__ import annotations

from pathlib import Path

from finplan.press import Press, pdf_bytes
from finplan.whole_file import write_whole


def write_pdf(html: str, target: Path, press: Press | None = None) -> None:
    """Write *html* as a tagged PDF to *target*, whole or not at all.

    Parameters
    ----------
    html
        A page that carries its styles and fonts; nothing else is read
    target
        The file; one that is there is replaced
    press
        A renderer that was started before; else it is loaded now

    Raises
    ------
    NoPageRendererError
        The machine lacks the libraries that set text; says which, and how to get them.
    NotPossibleError
        The renderer complains, or *target* cannot be written.
    """
    write_whole(pdf_bytes(html) if press is None else press.pdf(html), target)
