"""The pages of a piece that whoever asks may open."""

from __future__ import annotations

from typing import Annotated

from fastapi import Depends, Request

WAYS = ("piece", "file", "quote", "print", "bench")
FOR_PHONES = ("print", "bench")
IN_SCOPE = "finplan.ways"
"""Where the guard notes it of a request."""


def _ways_of(request: Request) -> tuple[str, ...]:
    return tuple(request.scope.get(IN_SCOPE, WAYS))


WaysOpen = Annotated[tuple[str, ...], Depends(_ways_of)]
