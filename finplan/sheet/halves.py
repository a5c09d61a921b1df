"""Two columns side by side: what stands in the left one, and what in the right."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import accumulate
from typing import TypeVar

Block = TypeVar("Block")


def halves(blocks: Sequence[Block], length: Callable[[Block], int]) -> tuple[tuple[Block, ...], tuple[Block, ...]]:
    """Return blocks in their order as two columns of which the longer is as short as can be, the left one if both may.

    The renderer would find that out by laying them out again and again, which takes as long as all else on the sheet.

    >>> halves(["long words", "short", "words"], len)
    (('long words',), ('short', 'words'))
    >>> halves(["short", "words", "and very long words"], len)
    (('short', 'words'), ('and very long words',))
    """
    lefts = [0, *accumulate(length(block) for block in blocks)]
    longer = [max(left, lefts[-1] - left) for left in lefts]
    cut = max(number for number, longest in enumerate(longer) if longest == min(longer))
    return tuple(blocks[:cut]), tuple(blocks[cut:])
