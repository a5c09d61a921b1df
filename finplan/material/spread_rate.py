"""The arithmetic of film build: spread rate, volume solids, wet and dry film thickness, thinning, loss."""

from __future__ import annotations


def spread_rate(volume_solids_pct: float, dry_film_um: float) -> float:
    """Return the theoretical spread rate. [m²/L]

    Parameters
    ----------
    volume_solids_pct
        Share of the volume that stays. [%]
    dry_film_um
        Dry film thickness. [µm]

    Notes
    -----
    ``10 · VS / DFT``: one litre of solids a micrometre thick covers 1000 m².

    Examples
    --------
    >>> spread_rate(65.0, 125.0)
    5.2
    """
    return 10 * volume_solids_pct / dry_film_um


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
