"""Many small cases as one test: each is tried, and every one that fails is told.

A case of a table that takes a tenth of a millisecond costs sixty times that as a test of its own: collected in every
process, set up, reported. What is tried is the same.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterable, Iterator
from functools import wraps
from typing import Any

Test = Callable[..., None]


def each(names: str | tuple[str, ...], cases: Iterable[Any]) -> Callable[[Test], Test]:
    """Let a test try every one of many cases, as ``pytest.mark.parametrize`` gives them to it.

    Fixtures are made once for all of them.

    Raises
    ------
    ExceptionGroup
        What failed, each with its case as a note.
    """
    wanted = (names,) if isinstance(names, str) else names
    all_cases = [_told(wanted, case) for case in cases]

    def of(test: Test) -> Test:
        @wraps(test)
        def tried(**fixtures: Any) -> None:
            assert all_cases, "there is nothing to try"
            failed = list(_failed(test, all_cases, fixtures))
            if failed:
                msg = f"{len(failed)} of {len(all_cases)} cases"
                raise ExceptionGroup(msg, failed)

        signature = inspect.signature(test)
        others = [one for name, one in signature.parameters.items() if name not in wanted]
        tried.__signature__ = signature.replace(parameters=others)  # type: ignore[attr-defined]
        return tried

    return of


def _told(names: tuple[str, ...], case: Any) -> dict[str, Any]:
    values = getattr(case, "values", case)  # of a pytest.param
    if callable(values):
        values = case
    return dict(zip(names, values if len(names) > 1 or values is not case else (case,), strict=True))


def _failed(test: Test, cases: Iterable[dict[str, Any]], fixtures: dict[str, Any]) -> Iterator[Exception]:
    for case in cases:
        try:
            test(**fixtures, **case)
        except Exception as error:
            error.add_note(f"case: {case!r:.300}")
            yield error
