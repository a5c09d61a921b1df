"""The guide in the terminal: its pages, which lie in the program, set plainly."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterator
from pathlib import Path

from finplan.cli.table import table
from finplan.problems import NotPossibleError, did_you_mean

_FOLDER = Path(__file__).resolve().parent.parent / "guide"
_WIDTH = 100
_FIRST = (
    "tutorial",
    "tutorial-us",
    "example",
    "commands",
    "fields",
    "piece-file",
    "shop-file",
    "timetable",
    "sheet",
    "record",
)
_LINK = re.compile(r"!?\[([^\]]*)\]\(([^)]*)\)")
_ITEM = re.compile(r"(?:- |\d+\. )")
_NARROW = 3
"""Columns of a table that still fit side by side, their words wrapped."""


def guide_lines(topic: str | None, program: str) -> list[str]:
    """Return what pages there are, or one of them.

    Raises
    ------
    NotPossibleError
        There is no such page.
    """
    known = {file.stem: file for file in sorted(_FOLDER.glob("*.md"))}
    if topic is None:
        names = [*(name for name in _FIRST if name in known), *(name for name in known if name not in _FIRST)]
        width = max(map(len, names))
        pages = [f"  {name:<{width}}  {_title(known[name])}" for name in names]
        return ["The guide:", "", *pages, "", f"'{program} guide {names[0]}' shows a page; they lie in {_FOLDER}"]
    name = topic.removesuffix(".md")
    if name not in known:
        msg = f"'{topic[:40]}' is no page of the guide; {did_you_mean(name, known)}"
        raise NotPossibleError(msg)
    return list(set_plainly(known[name].read_text(encoding="utf-8")))


def _title(page: Path) -> str:
    return page.read_text(encoding="utf-8").partition("\n")[0].removeprefix("# ")


def set_plainly(text: str) -> Iterator[str]:
    r"""Give the lines of a page as a terminal shows them best: headings underlined, what is typed set in.

    >>> list(set_plainly("# A page\n\nSee [another](b.md), `so`.\n"))
    ['A page', '======', '', 'See another (b), so.']
    """
    blocks = re.split(r"(^```.*?^```$)", text.strip(), flags=re.DOTALL | re.MULTILINE)
    for block in blocks:
        if block.startswith("```"):
            yield from (f"    {line}".rstrip() for line in block.splitlines()[1:-1])
            continue
        for number, paragraph in enumerate(re.split(r"\n{2,}", block.strip("\n")) if block.strip() else ()):
            if number:
                yield ""
            yield from _paragraph(paragraph.splitlines())
        if block is not blocks[-1]:
            yield ""


def _paragraph(lines: list[str]) -> Iterator[str]:
    if lines[0].startswith("<!--"):
        return
    if lines[0].startswith("#"):
        marks, _, words = lines[0].partition(" ")
        yield from (_plain(words), ("=" if len(marks) == 1 else "-") * len(_plain(words)))
        if lines[1:]:
            yield from _paragraph(lines[1:])
    elif lines[0].startswith("|"):
        yield from _table(lines)
    elif _ITEM.match(lines[0]):
        items = re.split(r"\n(?=- |\d+\. )", "\n".join(lines))
        for item in items:
            yield from textwrap.wrap(_plain(" ".join(item.split())), _WIDTH, subsequent_indent="  ")
    else:
        yield from textwrap.wrap(_plain(" ".join(lines)), _WIDTH, break_on_hyphens=False)


def _table(lines: list[str]) -> Iterator[str]:
    """Give a table: side by side where it is narrow, else each row as an item with its other cells below it."""
    rows = [[_plain(cell.strip()) for cell in re.split(r"(?<!\\)\|", line.strip()[1:-1])] for line in lines]
    heading, rows = rows[0], rows[2:]
    if sum(max(len(row[column]) for row in (heading, *rows)) + 2 for column in range(len(heading))) <= _WIDTH:
        yield from table(heading, rows)
        return
    for row in rows:
        yield row[0]
        for name, cell in zip(heading[1:], row[1:], strict=True):
            if cell:
                words = f"{name}: {cell}" if len(heading) > _NARROW and name else cell
                yield from textwrap.wrap(words, _WIDTH, initial_indent="    ", subsequent_indent="    ")


def _plain(text: str) -> str:
    """Return words without marks; a link to a page is its name."""
    text = _LINK.sub(lambda link: f"{link[1]} ({link[2].removesuffix('.md')})" if link[1] != link[2] else link[1], text)
    return text.replace("`", "").replace("**", "").replace("\\|", "|")
