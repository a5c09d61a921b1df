"""Solvents as standards, handbooks and lists print them, kept in a table as the package ``chemicals`` holds them.

- Lower flammable limits and flash points: IEC 60079-20-1:2010 and NFPA 497 (2008).
- Vapour pressures at 20 °C by the correlations of Perry's Handbook (8th ed., table 2-8, DIPPR form 101), Poling et al.
  (5th ed., appendix A, Antoine) and Landolt-Börnstein IV/20 (1999, Antoine); densities at 20 °C by that of Perry's
  Handbook (table 2-105, DIPPR form 105); heats of vaporisation at 25 °C: CRC Handbook. Molar masses from the formula.
- Limits of a day and of a quarter of an hour in ppm: Ontario's.

The package (1.5.2, MIT licence, https://github.com/CalebBell/chemicals) is large, and needed for nothing else. Run as a
program where it is installed, this reads the table of the solvents that the catalogue has now out of it anew.
"""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from pathlib import Path
from typing import Any

TABLE = Path(__file__).with_name("data") / "solvents.json"
STANDARDS = ("IEC 60079-20-1 (2010)", "NFPA 497 (2008)")
CUTS = {"8052-41-3", "64742-82-1", "64742-88-7", "8032-32-4", "64742-89-8", "8006-64-2", "1330-20-7"}
"""Petroleum cuts and mixtures, which have no formula."""
META_XYLENE = "108-38-3"
"""Of which mixed xylene is mostly made."""
T_K = 293.15


def published() -> dict[str, dict[str, Any]]:
    """Return what is printed of each substance, by its CAS number; what nobody prints is not there."""
    table: dict[str, dict[str, Any]] = json.loads(TABLE.read_text("utf-8"))
    return table


def le_chatelier_pct(shares: Sequence[float], limits_pct: Sequence[float]) -> float:
    """Return the lower flammable limit of a mixture of vapours, by Le Chatelier's rule. [%]"""
    return 1 / sum(share / limit_pct for share, limit_pct in zip(shares, limits_pct, strict=True))


def _printed(cas: str) -> dict[str, Any]:
    import chemicals
    from chemicals import phase_change

    day, short = chemicals.TWA(cas), chemicals.STEL(cas)
    limits, flashes = chemicals.LFL_methods(CASRN=cas), chemicals.T_flash_methods(cas)
    heats = phase_change.Hvap_data_CRC
    printed = {
        "molar_mass_g_mol": None if cas in CUTS else chemicals.MW(cas),
        "lower_flammable_limit_pct": {
            name: _short(100 * chemicals.LFL(CASRN=cas, method=name)) for name in STANDARDS if name in limits
        },
        "flash_point_c": {
            name: _short(chemicals.T_flash(cas, method=name) - 273.15) for name in STANDARDS if name in flashes
        },
        "vapour_pressure_kpa": _pressures_kpa(cas),
        "density_g_l": _density_g_l(cas),
        "heat_of_vaporisation_kj_mol": float(heats.loc[cas]["Hvap298"]) / 1000 if cas in heats.index else None,
        "ontario_day_ppm": day[0] if day and day[1] == "ppm" else None,
        "ontario_short_ppm": short[0] if short and short[1] == "ppm" else None,
    }
    printed = {name: _short(value) if isinstance(value, float) else value for name, value in printed.items()}
    return {name: value for name, value in printed.items() if value not in (None, {})}


def _pressures_kpa(cas: str) -> dict[str, float]:
    from chemicals import vapor_pressure
    from chemicals.dippr import EQ101

    vapor_pressure.load_vapor_pressure_dfs()
    pressures_pa = {}
    if cas in vapor_pressure.Psat_data_Perrys2_8.index:
        row = vapor_pressure.Psat_data_Perrys2_8.loc[cas]
        pressures_pa["Perry"] = float(EQ101(T_K, *(float(row[name]) for name in ("C1", "C2", "C3", "C4", "C5"))))
    if cas in vapor_pressure.Psat_data_AntoinePoling.index:
        row = vapor_pressure.Psat_data_AntoinePoling.loc[cas]
        pressures_pa["Poling"] = float(10 ** (row["A"] - row["B"] / (T_K + row["C"])))
    if cas in vapor_pressure.Psat_data_Landolt_Antoine.index:
        row = vapor_pressure.Psat_data_Landolt_Antoine.loc[cas]
        pressures_pa["Landolt-Börnstein"] = math.exp(row["A"] - row["B"] / (T_K + row["C"]))
    return {name: _short(pressure_pa / 1000) for name, pressure_pa in pressures_pa.items()}


def _density_g_l(cas: str) -> float | None:
    import chemicals
    from chemicals import volume
    from chemicals.dippr import EQ105

    if cas not in volume.rho_data_Perry_8E_105_l.index or cas == "7732-18-5":  # water's row is of another form
        return None
    row = volume.rho_data_Perry_8E_105_l.loc[cas]
    moles_m3 = float(EQ105(T_K, *(float(row[name]) for name in ("C1", "C2", "C3", "C4"))))
    return moles_m3 * float(chemicals.MW(cas)) / 1000


def _short(value: float) -> float:
    return float(f"{value:.6g}")


def main() -> None:
    """Write the table of the solvents that the catalogue has now."""
    from finplan.catalogue import bundled_catalogue

    known = [cas for solvent in bundled_catalogue().solvents.values() for cas in solvent.cas]
    table = {cas: _printed(cas) for cas in [*known, META_XYLENE]}
    TABLE.write_text(json.dumps(table, indent=1, ensure_ascii=False) + "\n", "utf-8")


if __name__ == "__main__":
    main()
