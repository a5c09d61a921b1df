"""Fields of piece and shop files that name a grade of abrasive."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Annotated

from pydantic import ValidationInfo

from finplan.catalogue import CAMI, grade_name, is_cami
from finplan.reading import Form, Reads, fail

_EXPECTED = "expected a P-grade such as P180, or a CAMI grade such as 180"


def grade_hint(written: str, known: Iterable[str]) -> str:
    """Return the hint for a grade that there is not: the one with the nearest number, on the same scale.

    >>> grade_hint("P175", ["P150", "P180", "CAMI 180"]), grade_hint("fine", ["P150"])
    ("did you mean 'P180'?", 'expected a P-grade such as P180, or a CAMI grade such as 180')
    """
    name = grade_name(written)
    alike = [grade for grade in known if name is not None and is_cami(grade) is is_cami(name)]
    if name is None or not alike:
        return _EXPECTED
    return f"did you mean '{min(alike, key=lambda grade: abs(_number(grade) - _number(name)))}'?"


def _number(grade: str) -> int:
    return int(grade.removeprefix(CAMI).removeprefix("P"))


def _known_grade(value: object, info: ValidationInfo) -> str:
    name = grade_name(value)
    known: Iterable[str] | None = (info.context or {}).get("grades")  # none where no file is read: it was known then
    if name is None or (known is not None and name not in known):
        fail(f"'{str(value)[:20]}' is not a grade", grade_hint(str(value), known or ()))
    return name


def _kept(value: object) -> str:
    name = grade_name(value)
    if name is None and not isinstance(value, str):
        fail(f"'{str(value)[:20]}' is not a grade", _EXPECTED)
    return name or str(value)[:60]


Grade = Annotated[str, Reads(_known_grade, in_context=True), Form("a grade: P180, or 180 for CAMI")]
"""A grade of either scale, by its name."""
KeptGrade = Annotated[str, Reads(_kept), Form("a grade: P180, or 180 for CAMI")]
"""The same, but what is no known grade is left as it is written: whether it is known is asked elsewhere."""
