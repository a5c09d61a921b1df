"""What sets the pace of drying, and by how much temperature and humidity change it."""

from typing import Literal, Self, get_args

from pydantic import Field, model_validator

from finplan.catalogue.record import Sourced
from finplan.reading import TemperatureSpan, fail

DryingLaw = Literal["oxidation", "reaction", "water", "solvent", "hardening"]
"""What sets the pace: oxygen, a hardener, evaporation of water, evaporation of solvent, or the temperature alone."""
DryingPhase = Literal["surface", "through", "hardening"]
"""What a coat is on the way to: dust no longer sticks; the next coat may go on, and it can be handled; it is hard."""
DRYING_PHASES: tuple[DryingPhase, ...] = get_args(DryingPhase)


class DryingPace(Sourced):
    """How the rate of drying depends on the air; the nominal times hold at 23 °C and 50 % humidity."""

    by: Literal["doubling", "arrhenius", "vapour-pressure", "water-evaporation"]
    """The rule by which the air changes the pace."""
    doubling: float | None = Field(None, gt=1, lt=50)
    """Degrees (K) that double the rate."""
    energy_kj_mol: float | None = Field(None, gt=5, lt=200)
    """Activation energy of an Arrhenius law, in kJ/mol."""
    enthalpy_kj_mol: float | None = Field(None, gt=5, lt=100)
    """Heat of vaporisation of a usual solvent, in kJ/mol."""
    fades_c: TemperatureSpan | None = None
    """Below the upper of two temperatures the rate falls off, to nothing at the lower; none where it never stops."""
    hardens_by: DryingLaw | None = None
    """By which law what has dried so gets hard, and so becomes too hard to be recoated; none where by the same."""

    @model_validator(mode="after")
    def _has_its_figure(self) -> Self:
        if self.by == "doubling" and self.doubling is None:
            fail("a pace that goes by doubling says no degrees", "give doubling: 10", ("doubling",))
        if self.by == "arrhenius" and self.energy_kj_mol is None:
            fail("a pace that goes by Arrhenius says no energy", "give energy-kj-mol: 50", ("energy-kj-mol",))
        if self.by == "vapour-pressure" and self.enthalpy_kj_mol is None:
            fail("a pace that goes by vapour pressure says no heat", "give enthalpy-kj-mol: 40", ("enthalpy-kj-mol",))
        return self

    @property
    def stands_still_c(self) -> float | None:
        """Below which temperature it stands still. [°C]"""
        return None if self.fades_c is None else self.fades_c.low
