"""What a mass of dust means: how much room it takes, and what a small share of it does to the air."""

from __future__ import annotations

from finplan.catalogue import SandingRules
from finplan.quantity import Range


def loose_l(dust_g: Range, rules: SandingRules) -> Range:
    """Return the room that dust takes as a heap or in a bag. [l]

    Notes
    -----
    ``mass / density of the heap``; 1 kg/m³ is 1 g/l. The bag is largest where the dust lies lightest.
    """
    heap = rules.loose_kg_m3
    return Range(dust_g.low / heap.high, dust_g.typical / heap.typical, dust_g.high / heap.low)


def airborne_mg_m3(dust_g: float, volume_m3: float, share_pct: float) -> float:
    """Return what the air of a room would hold where a share of the dust hung in it and nothing moved. [mg/m³]

    >>> round(airborne_mg_m3(169.0, 60.0, 1.0), 1)
    28.2
    """
    return dust_g * 1000 * share_pct / 100 / volume_m3
