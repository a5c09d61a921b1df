"""Lines of the picture that are drawn as one where there are many: the front has to stay one page."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import replace
from itertools import chain

from finplan.listing import some
from finplan.sheet.picture_row import Bar, PictureRow, hatching_of
from finplan.telling import OfItem, names_together

_MANY = 6
"""Of more lines some are drawn as one."""
_NEAR = 20.0
"""Bars that are no farther apart, some two millimetres on paper, are alike: what is coated in turn is an hour apart."""
_LETTERS = 30
"""Of the names of a line: two lines of its column."""
Named = tuple[OfItem[None], PictureRow]


def drawn_lines(rows: Sequence[Named]) -> tuple[PictureRow, ...]:
    """Return lines as they are drawn: one for each item; of many one for those whose bars stand alike.

    Where there are many all the same, one for what a set of alike pieces has of an item, whenever that is done.
    """
    groups = [[row] for row in rows]
    if len(groups) > _MANY:
        groups = _grouped(rows, _alike)
    if len(groups) > _MANY:
        groups = _grouped(list(chain.from_iterable(groups)), _of_one_set)
    return tuple(_joint(group) for group in groups)


def _grouped(rows: Sequence[Named], alike: Callable[[Named, Named], bool]) -> list[list[Named]]:
    groups: list[list[Named]] = []
    for row in rows:
        group = next((known for known in groups if alike(known[0], row)), None)
        if group is None:
            groups.append([row])
        else:
            group.append(row)
    return groups


def _alike(line: Named, other: Named) -> bool:
    """Return whether every bar of a line stands where that of the other does, and both are of one piece."""
    (_, row), (_, another) = line, other
    return (row.piece, row.ready_x) == (another.piece, another.ready_x) and all(
        len(bars) == len(others) and all(map(_near, bars, others))
        for bars, others in zip(_bars(row), _bars(another), strict=True)
    )


def _bars(row: PictureRow) -> tuple[tuple[Bar, ...], ...]:
    return row.work, row.coats, row.drying, row.windows


def _near(bar: Bar, other: Bar) -> bool:
    return abs(bar.x - other.x) <= _NEAR and abs(bar.end - other.end) <= _NEAR


def _of_one_set(line: Named, other: Named) -> bool:
    return _in_set(line) == _in_set(other) and line[0].number > 0


def _in_set(row: Named) -> Hashable:
    named, drawn = row
    return drawn.piece, named.name.replace(named.item, named.in_one, 1)


def _joint(group: Sequence[Named]) -> PictureRow:
    """Return a line on which all that is drawn of several stands: hatched while any of them is wet."""
    first = group[0][1]
    if len(group) == 1:
        return first
    rows = [row for _, row in group]
    drying = _merged(chain.from_iterable(row.drying for row in rows))
    return replace(
        first,
        item=some(names_together(named for named, _ in group), letters=_LETTERS),
        words="; ".join(row.words for row in rows),
        work=_merged(chain.from_iterable(row.work for row in rows)),
        coats=_merged(chain.from_iterable(row.coats for row in rows)),
        drying=drying,
        hatching=" ".join(map(hatching_of, drying)),
        windows=_common([row.windows for row in rows], drying),
    )


def _merged(bars: Iterable[Bar]) -> tuple[Bar, ...]:
    """Return bars in their order, those that overlap as one.

    >>> [(bar.x, bar.end) for bar in _merged([Bar(5.0, 3.0), Bar(0.0, 2.0), Bar(1.0, 2.0)])]
    [(0.0, 3.0), (5.0, 8.0)]
    """
    merged: list[Bar] = []
    for bar in sorted(bars, key=lambda bar: bar.x):
        if merged and bar.x <= merged[-1].end:
            before = merged.pop()
            merged.append(Bar(before.x, round(max(before.end, bar.end) - before.x, 1)))
        else:
            merged.append(bar)
    return tuple(merged)


def _common(windows: Sequence[Sequence[Bar]], drying: Sequence[Bar]) -> tuple[Bar, ...]:
    """Return when all of several are dry for the next coat; none where that is not at the same times."""
    if len({len(of_item) for of_item in windows}) > 1:
        return ()
    common = []
    for bars in zip(*windows, strict=True):
        x, end = max(bar.x for bar in bars), min(bar.end for bar in bars)
        if x < end and all(bar.end <= x or bar.x >= end for bar in drying):
            common.append(Bar(x, round(end - x, 1)))
    return tuple(common)
