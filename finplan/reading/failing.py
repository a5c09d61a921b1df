"""How a validator of pydantic says in our words what is wrong, and how that becomes a finding again."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any, NoReturn

from pydantic import ValidationError
from pydantic_core import InitErrorDetails, PydanticCustomError

from finplan.problems import Finding, Where


def fail(wrong: str, expected: str, path: Where = (), *, at_key: bool = False) -> NoReturn:
    """Raise an error for a pydantic validator: *wrong* and *expected* in our words, *path* further down from here."""
    context: dict[str, Any] = {"wrong": wrong, "expected": expected, "path": path, "at_key": at_key}
    raise PydanticCustomError("finplan", "{wrong}", context)


def finding_of(error: PydanticCustomError) -> Finding:
    """Return as a finding what ``fail`` has raised."""
    return _finding(error.context or {})


def _finding(said: Mapping[str, Any]) -> Finding:
    return Finding(said["path"], said["wrong"], said["expected"], at_key=said["at_key"])


def fail_each(findings: Iterable[Finding]) -> NoReturn:
    """Raise one error for a pydantic validator about all of *findings*, their paths further down from here."""
    errors: list[InitErrorDetails] = []
    for finding in findings:
        try:
            fail(finding.wrong, finding.expected, finding.path, at_key=finding.at_key)
        except PydanticCustomError as error:
            errors.append({"type": error, "loc": (), "input": None})
    raise ValidationError.from_exception_data("findings", errors)


def check_all(*checks: Callable[[], None]) -> None:
    """Run every check of a pydantic validator, and raise one error about all that they found."""
    findings: list[Finding] = []
    for check in checks:
        try:
            check()
        except PydanticCustomError as error:
            findings.append(finding_of(error))
        except ValidationError as error:
            findings += [_finding(detail["ctx"]) for detail in error.errors()]
    if findings:
        fail_each(findings)
