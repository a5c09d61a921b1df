"""What is printed of one stretch of work."""

from __future__ import annotations

import math
from dataclasses import dataclass

_LETTERS_OF_A_LINE = 68
_BESIDE_BLANKS, _BESIDE_ONE = 16, 34
"""Letters of a name beside which there is room for more, with two blanks and an amount at the right, and with one."""


def lines_in_row(text: str) -> int:
    """Return about how many lines a text takes in the column of the work.

    >>> lines_in_row("Stir; dust off and wipe the surface."), lines_in_row("")
    (1, 0)
    """
    return math.ceil(len(text) / _LETTERS_OF_A_LINE)


@dataclass(frozen=True, slots=True)
class ItemLine:
    """One of several items that share a row, with a box of its own."""

    number: str
    time: str
    item: str
    key: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StepRow:
    """One stretch of somebody's work, or of the same work on several items."""

    start: str
    end: str
    item: str
    """None where the label says it all."""
    label: str
    number: str = ""
    """What the step is called when it is ticked."""
    key: str = ""
    """What is needed at a glance: the amount, or the grit."""
    short: bool = False
    """Whether it is one line that belongs to the row before; only its start stands under the clock."""
    tied: bool = False
    """Of such a row, whether it stays on the page of the row before: not where that alone fills one."""
    told_once: bool = False
    """Whether what is said of how it is done stands at the first of its day alone: so of steps beside the coats."""
    critical: bool = False
    """Whether the piece is ready later if it takes longer."""
    lines: tuple[str, ...] = ()
    wear: str = ""
    """What is worn, where that is not ticked before the session."""
    cautions: tuple[str, ...] = ()
    """What is minded in it alone; what holds for all of a session is told before it."""
    items: tuple[ItemLine, ...] = ()
    """Where several share the row; none where it is of one."""
    used: str = ""
    """The unit of the blank for what was really used; none where nothing is put on."""
    below: str = ""
    """Until when a coat may go on the one below it, where that is not told before the session."""
    window: str = ""
    """When it is dry and what is done then."""
    latest: str = ""
    """Until when it may be begun without moving the delivery."""
    warnings: tuple[str, ...] = ()
    warned_at: str = ""
    """The step at which they stand already; empty where they are new."""
    ticks: tuple[str, ...] = ()
    """What is ticked when it is done."""

    @property
    def latest_beside(self) -> bool:
        """Whether until when it may be begun fits beside its name, where the amount and the blanks stand too."""
        return len(f"{self.item}: {self.label}") <= (_BESIDE_BLANKS if self.used and not self.items else _BESIDE_ONE)

    @property
    def height(self) -> int:
        """About how many lines it takes."""
        told = " ".join((*self.lines, self.below, self.window, self.latest))
        lines = [self.label, told, self.wear, " ".join(self.cautions), *self.warnings, *self.ticks]
        lines += [f"{item.number} {item.time} {item.item} {' '.join(item.lines)} {self.used}" for item in self.items]
        return 1 + sum(map(lines_in_row, lines))
