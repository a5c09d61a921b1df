"""Ranges as plain data."""

from __future__ import annotations

from finplan.quantity import Range


def range_data(value: Range, factor: float = 1.0) -> dict[str, float]:
    """Return low, typical and high, each times *factor*."""
    return {"low": value.low * factor, "typical": value.typical * factor, "high": value.high * factor}
