"""What is measured out, in words."""

from __future__ import annotations

from finplan.material.mixing import CoatMix
from finplan.quantity import Units
from finplan.showing import show_measured


def poured_words(mix: CoatMix, units: Units) -> str:
    """Return how much is poured out for a coat: of what is mixed, both components together; of batches, each."""
    volume = show_measured(mix.decant.volume_ml or 0.0, units)
    return volume if mix.batches == 1 else f"{mix.batches} × {volume}"
