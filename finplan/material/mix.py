"""What is mixed before use, taken apart: how much of each component a volume of the mix holds."""

from __future__ import annotations

from finplan.catalogue import Mix


def components_ml(mix: Mix, volume_ml: float) -> tuple[float, ...]:
    """Return how much of each component goes into a volume of the mix, in the order of the mix. [ml]

    Parameters
    ----------
    mix
        The components with their parts by volume
    volume_ml
        What is wanted of all of them together. [ml]

    Notes
    -----
    Each takes its share of the parts, so that one litre of a mix of 4 to 1 is 800 ml and 200 ml, not a litre and a
    quarter of one; that a mix may shrink is left out.
    """
    parts = [component.parts for component in mix.components]
    return tuple(volume_ml * part / sum(parts) for part in parts)
