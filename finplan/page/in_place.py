"""The drawing of a part cut where fields stand in it, so that a page can put them in place."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from html import unescape
from typing import Any

from markupsafe import Markup

from finplan.page.field import Field, written_path
from finplan.problems import Where
from finplan.typesetting import estimated_em

_TEXT = re.compile(r'<text [^>]*?data-pieces="(?P<pieces>[^"]*)" data-box="(?P<box>[^"]*)"[^>]*>[^<]*</text>')
_MARKS = re.compile(r' data-(?:pieces|box)="[^"]*"')
_SIZE = re.compile(r'width="[\d.]+mm" height="(?P<high>[\d.]+)mm" viewBox="0 0 (?P<wide>[\d.]+) [\d.]+"')
LEFT_MM = 8.0
"""What is added at the left, for fields of heights that do not read upwards as a size on paper does."""
_PADDING_MM, _HIGH_MM, _TEXT_MM = 3.2, 5.6, 3.5


@dataclass(frozen=True, slots=True)
class InPlace:
    """Fields that stand at one place of a drawing, with the words around them. [mm]"""

    x: float
    y: float
    width: float
    height: float
    pieces: tuple[tuple[str, Field | None], ...]
    face: Field | None = None
    """Of the label of a face: how it is exposed."""


def with_fields(drawing: str, data: Any, part: str, field_of: Callable[[Where], Field]) -> tuple[Markup | InPlace, ...]:
    """Return a drawing as what is drawn and the fields in it, in their order.

    Parameters
    ----------
    drawing
        With marks, as ``part_drawing`` gives it
    data
        Of the file
    part
        Its name
    field_of
        What makes a field of a path; of a face that of its exposure
    """
    return tuple(_cut(_wider(drawing), data, part, field_of))


def bare(drawing: str) -> Markup:
    """Return a drawing with marks without them, to be looked at alone."""
    return Markup(_MARKS.sub("", drawing))  # noqa: S704 - our own drawing, escaped there


def _wider(drawing: str) -> str:
    def size(match: re.Match[str]) -> str:
        wide, high = float(match["wide"]), float(match["high"])
        return f'class="part" viewBox="{-LEFT_MM:g} 0 {wide + LEFT_MM:g} {high + 1:g}"'

    # The rectangle of the paper is a white of its own; on a page the page is the paper.
    whole = _SIZE.sub(size, drawing, count=1).replace('role="img"', 'role="group"', 1)
    return re.sub(r'<rect width="[\d.]+" height="[\d.]+" fill="#fff" />', "", whole, count=1)


def _cut(drawing: str, data: Any, part: str, field_of: Callable[[Where], Field]) -> Iterator[Markup | InPlace]:
    end = 0
    seen: set[Where] = set()
    for match in _TEXT.finditer(drawing):
        fields: list[tuple[str, Field | None]] = []
        face: Field | None = None
        for words, path in json.loads(unescape(match["pieces"])):
            whole: Where | None = None if path is None else ("parts", part, *path)
            if path is not None and path[0] == "faces" and whole is not None:
                fields.append((words, None))
                if whole not in seen:
                    seen.add(whole)
                    face = field_of((*whole, "exposure"))
                continue
            there = None if whole is None else written_path(data, whole)
            if there is None or there in seen:
                fields.append((words, None))
            else:
                seen.add(there)
                fields.append((words, field_of(there)))
        if face is None and all(field is None for _, field in fields):
            continue
        kept = "" if face is None or any(field for _, field in fields) else _MARKS.sub("", match[0])
        yield Markup(_MARKS.sub("", drawing[end : match.start()]) + kept)  # noqa: S704 - our own drawing, escaped there
        yield _placed(match["box"], tuple(fields), face)
        end = match.end()
    yield Markup(_MARKS.sub("", drawing[end:]))  # noqa: S704 - likewise


def _placed(box: str, pieces: tuple[tuple[str, Field | None], ...], face: Field | None) -> InPlace:
    x, y, wide, high = map(float, box.split())
    needed = sum(
        _TEXT_MM * estimated_em(words if field is None else field.value) + (0.0 if field is None else _PADDING_MM)
        for words, field in pieces
    )
    width = max(wide, needed) if face is None else wide
    left = max(x + wide / 2 - width / 2, -LEFT_MM + 0.3)
    return InPlace(left, y + high / 2 - _HIGH_MM / 2, width, _HIGH_MM, pieces, face)
