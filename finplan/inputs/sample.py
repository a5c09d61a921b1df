"""A sample board that the customer approves, as a piece file asks for it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated

from finplan.problems import shown
from finplan.reading import DATE_FORM, Form, GivenDate, Reads, fail

_SAID = re.compile(r"(?P<what>approve by|approved)\s+(?P<date>.{1,40})")
_EXPECTED = "expected approve by 2027-01-20, or approved 2027-01-18"


@dataclass(frozen=True, slots=True)
class SampleBoard:
    """A board that is finished before the piece, and shown."""

    by: GivenDate
    """Until when the customer approves it, or when that was done."""
    approved: bool = False
    """Whether that has been done."""


def _sample(value: object) -> SampleBoard:
    match = _SAID.fullmatch(" ".join(str(value).split()))
    if match is None:
        fail(f"{shown(value)} says nothing of a sample", _EXPECTED)
    try:
        return SampleBoard(GivenDate.parse(match["date"]), match["what"] == "approved")
    except ValueError as error:
        fail(str(error), f"expected a date behind {match['what']}: {DATE_FORM.partition(',')[0]}")


_SCHEMA = {"type": "string", "pattern": r"^\s*(approve by|approved)\s+\S.*$"}
Sample = Annotated[
    SampleBoard,
    Reads(_sample),
    Form("the words approve by, or approved, with a date: approve by 2027-01-20", _SCHEMA),
]
