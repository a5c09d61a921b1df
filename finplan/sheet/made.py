"""From what a sheet was made, so that it can be made again and every number be looked up."""

from __future__ import annotations

from dataclasses import dataclass

from finplan.planning import Plan


@dataclass(frozen=True, slots=True)
class MadeWith:
    """What a sheet was made with, and of what."""

    version: str
    """Of the program, and with it of its catalogue."""
    digest: str
    """Of the files."""


def made(plan: Plan) -> MadeWith:
    """Return what a plan was made with, and of what."""
    return MadeWith(version=plan.version, digest=plan.digest)
