"""Undo and redo: the texts that a piece has had, not what was done to them."""

from __future__ import annotations

from dataclasses import dataclass, field

from finplan.page.folder import digest_of

SETTLED_S = 3.0
"""What was written outside and stood no longer than this was not finished."""
MAX_TEXTS = 200
"""That are kept of a piece."""


@dataclass
class History:
    """The texts of one piece, oldest first, and which of them the file says."""

    texts: list[str] = field(default_factory=list)
    at: int = -1
    _outside: float | None = None
    """When the last text came from outside; None where it is an edit's."""
    before_last: str | None = None
    """What the file said before it was last changed, by an edit, undo or redo."""

    def seen(self, words: str, moment: float) -> None:
        """Take note of what the file says because somebody wrote it outside; *moment* in seconds.

        A program that saves a file may empty it first and then fill it: what was there for a moment is nobody's text.
        """
        if self.at >= 0 and self.texts[self.at] == words:
            return
        if self._outside is not None and moment - self._outside < SETTLED_S and self.at == len(self.texts) - 1 > 0:
            self.texts[self.at] = words
        elif words.strip() or self.at < 0:
            self.wrote(words)
        else:
            return
        self._outside = moment

    def wrote(self, words: str) -> None:
        """Take note of what was written into the file by an edit."""
        if self.at >= 0 and self.texts[self.at] == words:
            return
        self._outside = None
        if self.at >= 0:
            self.before_last = self.texts[self.at]
        self.texts = [*self.texts[: self.at + 1], words][-MAX_TEXTS:]
        self.at = len(self.texts) - 1

    def step(self, by: int) -> str | None:
        """Return the text before (-1) or after (1) the one that is there; None where there is none."""
        there = self.at + by
        return self.texts[there] if 0 <= there < len(self.texts) else None

    def move(self, by: int) -> None:
        """Take a step, which ``step`` gave."""
        self.before_last = self.texts[self.at]
        self.at += by

    def knows(self, digest: str) -> str | None:
        """Return a text by its digest."""
        return next((text for text in reversed(self.texts) if digest_of(text) == digest), None)
