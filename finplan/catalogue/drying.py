"""What sets the pace of drying, and by how much temperature and humidity change it."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from finplan.catalogue.record import Sourced


class DryingPace(Sourced):
    """How the rate of drying depends on the air; the nominal times hold at 23 °C and 50 % humidity."""

    by: Literal["doubling", "vapour-pressure", "water-evaporation"]
    doubling: float | None = Field(None, gt=1, lt=50)
    """Degrees (K) that double the rate."""
    enthalpy_kj_mol: float | None = Field(None, gt=5, lt=100)
    """Heat of vaporisation of a usual solvent. [kJ/mol]"""
