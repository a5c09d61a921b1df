"""How large the words of a tag are set: as large as its label has room for, whatever the names.

The lengths are those of ``templates/tags.css``.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from finplan.inputs import LabelPlace
from finplan.listing import shortened
from finplan.tags.tag import Tag
from finplan.typesetting import leading, lines_taken, width_em

_MM_PER_PT = 25.4 / 72
_LOW_MM = 45.0
"""On a label that is lower, what can stand side by side does."""
_SMALL_MM = (60.0, 32.0)
"""On a label that is narrower or lower, less room is left for the pencil."""
_PADDING_MM, _MARK_MM = 2.0, 5.0
"""Around a tag, and the hatching at its left with the gap beside it."""
_RULE_MM = 1.25
"""The rule across a tag, with the room around it."""
_GAP_MM = 2.4
"""Between words that stand side by side."""
_CAUTION = 0.5
"""Of the size of the moment."""
_PART, _SMALL = (0.9, 0.75, 0.6), (0.55, 0.52, 0.49, 0.46, 0.42)
"""Likewise, of the part and of all other words."""
_FULL_PT, _FULL_SMALL_PT, _FULL_ROW_PT, _LEAST_PT = 48.0, 13.0, 10.5, 5.5
"""The largest size of the moment, of other words and of those before the blank, and the smallest of any."""
_READABLE_PT = 9.0
"""Of the moment: names are rather shortened than a time cannot be read at arm's length."""
_BLANK_MOST_MM = 40.0
_SHORTENED = (("piece", 24), ("coat", 24), ("part", 24), ("piece", 12), ("coat", 12), ("part", 12))
"""What is shortened in turn, and to how many letters at the least."""


@dataclass(frozen=True, slots=True)
class TagSizes:
    """How large the words of a tag are set, in pt, and how wide the blank for the real time is, in mm."""

    part_pt: float
    moment_pt: float
    caution_pt: float
    small_pt: float
    row_pt: float
    blank_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class _Row:
    """The line that is filled in with a pencil. [mm]"""

    height_mm: float
    box_mm: float
    blank_mm: float


_ROW, _SMALL_ROW = _Row(5.0, 5.8, 13.0), _Row(3.8, 4.4, 8.0)


@dataclass(frozen=True, slots=True)
class Beside:
    """What stands side by side: the piece and its part, the moment and what it is for, what comes then and at last."""

    piece: bool
    moment: bool
    then: bool


@dataclass(frozen=True, slots=True)
class FittedTag:
    """A tag as it is printed on its label."""

    tag: Tag
    place: LabelPlace
    sizes: TagSizes
    written: str
    """The words before the blank for the real time."""
    beside: Beside
    shortened: bool
    """Whether its names are too long for the label."""


def is_small(place: LabelPlace) -> bool:
    """Return whether little room is left for the pencil."""
    width_mm, height_mm = _SMALL_MM
    return place.width_mm < width_mm or place.height_mm < height_mm


def fitted(tag: Tag, place: LabelPlace) -> FittedTag:
    """Return a tag in the largest words that fit its label, the part and the moment above all.

    Where not even the smallest that can be read do, on a small label with very long names, the names are shortened,
    which shows; never the number of a loose part, and never a time.
    """
    shown = _shortened_to(place, tag)
    largest = max((_largest(shown, place, part) for part in _PART), key=lambda tried: tried.part_pt + tried.moment_pt)
    sizes = _with_small_words(shown, place, largest)
    piece, moment, then = (pair.beside for pair in _pairs(shown, sizes, place))
    return FittedTag(
        tag=shown,
        place=place,
        sizes=replace(sizes, blank_mm=_blank_mm(shown, sizes, place)),
        written=_written(shown, place),
        beside=Beside(piece, moment, then),
        shortened=shown != tag,
    )


def _shortened_to(place: LabelPlace, tag: Tag) -> Tag:
    least = _sizes_at(_READABLE_PT, _PART[-1], _SMALL[-1])
    for name, fewest in _SHORTENED:
        words = getattr(tag, name)
        for letters in range(len(words), fewest - 1, -1):
            shorter = replace(tag, **{name: shortened(words, letters)})
            if _fits(shorter, least, place):
                return shorter
        tag = replace(tag, **{name: shortened(words, fewest)})
    return tag


def _largest(tag: Tag, place: LabelPlace, part: float) -> TagSizes:
    """Return the largest words that fit with the part so much of the size of the moment."""
    halves = range(int(2 * _FULL_PT), int(2 * _LEAST_PT), -1)
    tries = (_sizes_at(half / 2, part, _SMALL[-1]) for half in halves)
    return next((sizes for sizes in tries if _fits(tag, sizes, place)), _sizes_at(_LEAST_PT, part, _SMALL[-1]))


def _with_small_words(tag: Tag, place: LabelPlace, sizes: TagSizes) -> TagSizes:
    """Return sizes with the other words as large as there is room for."""
    part = sizes.part_pt / sizes.moment_pt
    tries = (_sizes_at(sizes.moment_pt, part, small) for small in _SMALL)
    return next((smaller for smaller in tries if _fits(tag, smaller, place)), sizes)


def _sizes_at(moment_pt: float, part: float, small: float) -> TagSizes:
    small_pt = min(_FULL_SMALL_PT, max(_LEAST_PT, small * moment_pt))
    return TagSizes(
        part_pt=max(_LEAST_PT, part * moment_pt),
        moment_pt=moment_pt,
        caution_pt=max(_LEAST_PT, _CAUTION * moment_pt),
        small_pt=small_pt,
        row_pt=min(_FULL_ROW_PT, small_pt),
    )


def _width_mm(place: LabelPlace) -> float:
    return place.width_mm - 2 * _PADDING_MM - _MARK_MM


def _row(place: LabelPlace) -> _Row:
    return _SMALL_ROW if is_small(place) else _ROW


def _fits(tag: Tag, sizes: TagSizes, place: LabelPlace) -> bool:
    """Return whether a tag fits its label, its moment and what is filled in on one line each."""
    room_mm = _width_mm(place)
    if _one_line_mm(tag.moment, sizes.moment_pt, bold=True) > room_mm:
        return False
    if _blank_mm(tag, sizes, place) < _row(place).blank_mm:
        return False
    return _height_mm(tag, sizes, place) <= place.height_mm - 2 * _PADDING_MM


def _written(tag: Tag, place: LabelPlace) -> str:
    return f"Put on {tag.put_on}" if is_small(place) else f"Put on {tag.put_on}, really"


def _blank_mm(tag: Tag, sizes: TagSizes, place: LabelPlace) -> float:
    """Return how much the words beside the blank leave of their line, as far as it is wanted."""
    words_mm = _one_line_mm(f"{_written(tag, place)} ", sizes.row_pt, bold=False)
    return min(_BLANK_MOST_MM, _width_mm(place) - _row(place).box_mm - words_mm)


def _height_mm(tag: Tag, sizes: TagSizes, place: LabelPlace) -> float:
    coat = _Words(tag.coat, sizes.small_pt)
    return (
        sum(pair.height_mm for pair in _pairs(tag, sizes, place))
        + coat.height_mm(_width_mm(place))
        + _RULE_MM
        + _row(place).height_mm
    )


def _pairs(tag: Tag, sizes: TagSizes, place: LabelPlace) -> tuple[_Pair, ...]:
    room_mm, low = _width_mm(place), place.height_mm < _LOW_MM
    part, piece = _Words(tag.thing, sizes.part_pt, bold=True), _Words(tag.piece, sizes.small_pt)
    caution, moment = _Words(tag.caution, sizes.caution_pt, bold=True), _Words(tag.moment, sizes.moment_pt, bold=True)
    then, hand_over = (_Words(text, sizes.small_pt, bold=True) for text in (tag.then, tag.hand_over))
    return (
        _Pair(part, piece, room_mm, wanted=low),
        _Pair(caution, moment, room_mm, wanted=low),
        _Pair(then, hand_over, room_mm, wanted=True),
    )


@dataclass(frozen=True, slots=True)
class _Words:
    """Words in one size."""

    text: str
    size_pt: float
    bold: bool = False

    @property
    def one_line_mm(self) -> float:
        return _one_line_mm(self.text, self.size_pt, bold=self.bold)

    def height_mm(self, room_mm: float) -> float:
        if not self.text:
            return 0.0
        lines = lines_taken(self.text, self.size_pt * _MM_PER_PT, room_mm, bold=self.bold)
        return lines * leading(self.text) * self.size_pt * _MM_PER_PT


@dataclass(frozen=True, slots=True)
class _Pair:
    """Two texts, one below the other, or side by side where that is wanted and goes."""

    first: _Words
    second: _Words
    room_mm: float
    wanted: bool

    @property
    def beside(self) -> bool:
        return self.wanted and self.first.one_line_mm + _GAP_MM + self.second.one_line_mm <= self.room_mm

    @property
    def height_mm(self) -> float:
        heights_mm = self.first.height_mm(self.room_mm), self.second.height_mm(self.room_mm)
        return max(heights_mm) if self.beside else sum(heights_mm)


def _one_line_mm(text: str, size_pt: float, *, bold: bool) -> float:
    return width_em(text, bold=bold) * size_pt * _MM_PER_PT
