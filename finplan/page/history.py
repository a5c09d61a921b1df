"""Undo and redo: the texts that a piece has had, and the shop file with it; not what was done to them."""

from __future__ import annotations

from dataclasses import dataclass, field

from finplan.page.folder import text_digest

SETTLED_S = 3.0
"""What was written outside and stood no longer than this was not finished."""
MAX_TEXTS = 200
"""That are kept of a piece."""


@dataclass(frozen=True, slots=True)
class ShopTexts:
    """What the shop file said before and after a step; None where there was none."""

    before: str | None
    after: str | None


@dataclass(frozen=True, slots=True)
class TextStep:
    """A text of a piece; and what became of the shop file when it was written, where that was changed too."""

    words: str
    shop: ShopTexts | None = None


@dataclass
class History:
    """The steps of one piece, oldest first, and which of them the file says."""

    steps: list[TextStep] = field(default_factory=list)
    at: int = -1
    _outside: float | None = None
    """When the last text came from outside; None where it is an edit's."""
    before_last: str | None = None
    """What the file said before it was last changed, by an edit, undo or redo."""

    def seen(self, words: str, moment: float) -> None:
        """Take note of what the file says because somebody wrote it outside; *moment* in seconds.

        A program that saves a file may empty it first and then fill it: what was there for a moment is nobody's text.
        """
        if self.at >= 0 and self.steps[self.at].words == words:
            return
        if self._outside is not None and moment - self._outside < SETTLED_S and self.at == len(self.steps) - 1 > 0:
            self.steps[self.at] = TextStep(words)
        elif words.strip() or self.at < 0:
            self.wrote(words)
        else:
            return
        self._outside = moment

    def wrote(self, words: str, shop: ShopTexts | None = None) -> None:
        """Take note of what was written into the file by an edit, and into the shop file."""
        if self.at >= 0 and self.steps[self.at].words == words and shop is None:
            return
        self._outside = None
        if self.at >= 0:
            self.before_last = self.steps[self.at].words
        self.steps = [*self.steps[: self.at + 1], TextStep(words, shop)][-MAX_TEXTS:]
        self.at = len(self.steps) - 1

    def step(self, by: int) -> TextStep | None:
        """Return what a step back (-1) or on (1) leads to, the shop file likewise; None where there is none."""
        there = self.at + by
        if not 0 <= there < len(self.steps):
            return None
        shop = self.steps[self.at if by < 0 else there].shop
        if shop is not None and by < 0:
            shop = ShopTexts(shop.after, shop.before)
        return TextStep(self.steps[there].words, shop)

    def move(self, by: int) -> None:
        """Take a step, which ``step`` gave."""
        self.before_last = self.steps[self.at].words
        self.at += by

    def knows(self, digest: str) -> str | None:
        """Return a text by its digest."""
        return next((step.words for step in reversed(self.steps) if text_digest(step.words) == digest), None)
