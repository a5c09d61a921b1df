"""What is asked of a plan beside its files, as it was typed: what a plan is known by."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, replace
from functools import cache
from typing import Any

from pydantic import TypeAdapter

from finplan.ledger import read_back_as
from finplan.timetable import ReadyFor  # read where a wish is checked


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked of a plan beside its files. Texts as a person typed them, on the shop's clock."""

    start: str | None = None
    """The first day on which work may start; None for when the plan is made."""
    deliver: str | None = None
    """The delivery, instead of the piece files'."""
    asap: bool = False
    largest_buffer: bool = False
    ready_for: ReadyFor = "light-use"
    done: tuple[str, ...] = ()
    """Steps that are said to have been done, with their times, beside those that are ticked."""
    catalogue_only: bool = False
    """Whether what the shop has learnt is left aside."""

    @property
    def nothing(self) -> bool:
        """Whether nothing is asked: then it is as it was, with what the shop has learnt or without."""
        return replace(self, catalogue_only=False) == Asked()

    def plain(self) -> dict[str, Any]:
        """Return it as plain values."""
        return {**asdict(self), "done": list(self.done)}

    @classmethod
    def of(cls, values: Mapping[str, Any]) -> Asked:
        """Return what plain values say.

        Raises
        ------
        LedgerError
            They are none.
        """
        with read_back_as("wish"):
            asked = cls(**{**values, "done": tuple(values["done"])})
            _adapter().validate_python(asdict(asked))
        return asked


@cache
def _adapter() -> TypeAdapter[Asked]:
    return TypeAdapter(Asked)
