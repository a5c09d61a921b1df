"""Which whole packs hold what is needed."""

from __future__ import annotations

from collections.abc import Sequence

MOST_COUNTED = 5000
"""Beyond so many pieces what the last pack leaves over is of no account."""


def whole_packs(pieces: int, counts: Sequence[int]) -> tuple[tuple[int, int], ...]:
    """Return how many packs of which count leave the fewest pieces over, and of these the fewest packs.

    Parameters
    ----------
    pieces
        What has to be in them
    counts
        How many pieces are sold together; nothing is returned where there are none

    Examples
    --------
    >>> whole_packs(3, [5, 10, 50]), whole_packs(30, [10, 25, 50]), whole_packs(48, [5, 10, 50])
    (((1, 5),), ((3, 10),), ((1, 50),))
    """
    if pieces <= 0 or not counts:
        return ()
    largest = max(counts)
    if pieces > MOST_COUNTED:
        return ((-(-pieces // largest), largest),)
    fewest = _fewest_packs(pieces + largest, sorted(set(counts)))
    held = next(total for total in range(pieces, len(fewest)) if fewest[total] is not None)
    packs: dict[int, int] = {}
    while held:
        _, last = fewest[held] or (0, held)
        packs[last] = packs.get(last, 0) + 1
        held -= last
    return tuple((number, count) for count, number in sorted(packs.items(), reverse=True))


def _fewest_packs(most: int, counts: Sequence[int]) -> list[tuple[int, int] | None]:
    """Return for every number of pieces the fewest packs that hold just these, and the largest of them."""
    fewest: list[tuple[int, int] | None] = [(0, 0)] + [None] * most
    for total in range(1, most + 1):
        for count in counts:
            before = fewest[total - count] if count <= total else None
            best = fewest[total]
            if before is not None and (best is None or before[0] + 1 <= best[0]):
                fewest[total] = (before[0] + 1, count)
    return fewest
