"""Two columns side by side: what stands in the left one, and what in the right."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import accumulate
from typing import TypeVar

Block = TypeVar("Block")


def halves(blocks: Sequence[Block], length: Callable[[Block], int]) -> tuple[tuple[Block, ...], tuple[Block, ...]]:
    """Return blocks in their order as two columns of about the same length, the left one never the shorter.

    The renderer would find that out by laying them out again and again, which takes as long as all else on the sheet.

    >>> halves(["long words", "short", "words"], len)
    (('long words',), ('short', 'words'))
    """
    lengths = [length(block) for block in blocks]
    half = sum(lengths) / 2
    cut = next((number for number, so_far in enumerate(accumulate(lengths), 1) if so_far >= half), 0)
    return tuple(blocks[:cut]), tuple(blocks[cut:])
