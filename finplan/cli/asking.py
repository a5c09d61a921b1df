"""Answers to plain questions: from options, else asked for on a terminal, else as usual; what is missing is told."""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TypeVar

import typer

from finplan.problems import NotPossibleError

T = TypeVar("T")


class AnswerError(ValueError):
    """What was answered cannot be had; says what is wrong, and what is expected."""


@dataclass
class Questions:
    """The questions of one command."""

    asks: bool
    """Whether somebody sits there who can be asked."""
    _missing: list[str] = field(default_factory=list)
    _wrong: list[str] = field(default_factory=list)

    def answer(
        self,
        option: str,
        question: str,
        given: str | None,
        read: Callable[[str], T],
        *,
        usual: str | None = None,
        example: str | None = None,
    ) -> T | None:
        """Return the answer to a question; None where there is none, which ``complete`` tells.

        Parameters
        ----------
        option
            What gives it on the command line
        question
            What is asked: the last line again and again until it is answered, what stands before that once
        given
            What was given there
        read
            Makes of a text what is meant, or raises ``AnswerError``
        usual
            The answer where nobody gives another
        example
            The option as it may be given, where it is missing
        """
        if given is None and self.asks:
            return self._asked(question, read, usual)
        text = usual if given is None else given
        if text is None:
            self._missing.append(example or option)
            return None
        try:
            return read(text)
        except AnswerError as error:
            self._wrong.append(f"{option}: {error}")
            return None

    def refuse(self, wrong: str) -> None:
        """Note something else that is wrong with what was given."""
        self._wrong.append(wrong)

    def complete(self, hint: str = "") -> None:
        """Refuse what is missing or wrong, all of it at once.

        Raises
        ------
        NotPossibleError
            Something is; *hint* says where to look for what is missing.
        """
        lines = list(self._wrong)
        if self._missing:
            lines.append(f"nobody can be asked here, and these are missing: {', '.join(self._missing)}; {hint}")
        if lines:
            raise NotPossibleError("\n".join(lines))

    def _asked(self, question: str, read: Callable[[str], T], usual: str | None) -> T:
        *before, asked = question.split("\n")
        if before:
            typer.echo("\n".join(before), err=True)
        while True:
            text = typer.prompt(asked, default=usual, err=True)
            try:
                return read(str(text).strip())
            except AnswerError as error:
                typer.echo(f"  {error}", err=True)


def somebody_sits_there() -> bool:
    """Return whether questions can be asked: both ends are a terminal."""
    return sys.stdin.isatty() and sys.stderr.isatty()
