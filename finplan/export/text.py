"""Plain data as JSON text, the same bytes for the same data."""

from __future__ import annotations

import json
from typing import Any


def as_json(data: Any) -> str:
    """Return *data* as JSON, numbers in full double precision.

    Raises
    ------
    ValueError
        It holds a number that JSON has no form for.
    """
    return json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False)
