"""The arithmetic of film build: spread rate, wet film thickness, volume solids, thinning."""

from __future__ import annotations


def wet_film(rate_m2_l: float) -> float:
    """Return the wet film thickness at a spread rate on a surface that soaks up nothing. [µm]

    >>> wet_film(12.0)
    83.3
    """
    return 1000 / rate_m2_l


def thinned_solids(volume_solids_pct: float, thinner_pct: float) -> float:
    """Return the volume solids after thinning by a share of the finish's volume. [%]

    >>> thinned_solids(50.0, 10.0)
    45.45
    """
    return volume_solids_pct / (1 + thinner_pct / 100)
