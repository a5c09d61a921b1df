"""Solvents: how heavy, how fast they evaporate, when their vapour burns and how much of it may be breathed."""

from typing import Annotated

from pydantic import Field

from finplan.catalogue.pack import Packs
from finplan.catalogue.ranges import DensityRange
from finplan.catalogue.record import Sourced
from finplan.reading import (
    FlammableRange,
    MassInAirMgM3,
    MolarMassRange,
    Name,
    PressureRange,
    Record,
    ShareOfAirPpm,
    TemperatureC,
)

_FLAMMABLE_UP_TO_C = 60.0


class ExposureLimits(Record):
    """The most vapour that may be breathed; a limit that a body does not set is left out. Means over a working day."""

    osha_ppm: ShareOfAirPpm | None = None
    """OSHA permissible exposure limit, 8 hours."""
    niosh_ppm: ShareOfAirPpm | None = None
    """NIOSH recommended exposure limit, up to 10 hours."""
    niosh_mass_mg_m3: MassInAirMgM3 | None = None
    """The same where NIOSH sets it by mass, as for petroleum cuts."""
    niosh_short_ppm: ShareOfAirPpm | None = None
    """NIOSH limit for any 15 minutes."""
    niosh_short_mass_mg_m3: MassInAirMgM3 | None = None
    """The same for any 15 minutes where NIOSH sets it by mass."""
    acgih_ppm: ShareOfAirPpm | None = None
    """ACGIH threshold limit value, 8 hours."""
    acgih_short_ppm: ShareOfAirPpm | None = None
    """ACGIH limit for any 15 minutes."""
    aiha_ppm: ShareOfAirPpm | None = None
    """AIHA workplace environmental exposure level, 8 hours: for what the three before it set no limit for."""
    skin: bool = False
    """A list warns that it is taken up through the skin."""


class Solvent(Sourced):
    """A solvent, thinner or cleaner. Density and vapour pressure at 20 °C."""

    cas: tuple[Name, ...] = ()
    """Registry numbers under which safety data sheets list it."""
    components: dict[Name, Annotated[float, Field(ge=0.001, le=1000)]] = Field(default_factory=dict)
    """What a blend holds: parts by volume of other solvents."""
    molar_mass_g_mol: MolarMassRange
    """Mass of a mole; the mean of a blend or petroleum cut."""
    density_g_l: DensityRange
    """Mass of a litre of liquid."""
    vapour_pressure_kpa: PressureRange
    """Pressure of its vapour over the liquid: how fast it evaporates."""
    lower_flammable_limit_pct: FlammableRange | None = None
    """The least share of vapour in air, by volume, that burns; low is the lowest published. None where it does not."""
    flash_point_c: TemperatureC | None = None
    """The lowest published temperature at which it gives off enough vapour to burn, closed cup."""
    limits: ExposureLimits | None = None
    """The most vapour that may be breathed, by the bodies that set limits."""
    sensitiser: bool = False
    """It may make skin allergic for good, if only once air has aged it."""
    packs: Packs | None = None
    """Sizes in which it is sold; those of packs.yaml where none are given."""

    @property
    def burns_cold(self) -> bool:
        """Whether it is a flammable liquid: with a flash point of 60 °C at most, by GHS, recalled."""
        return self.flash_point_c is not None and self.flash_point_c <= _FLAMMABLE_UP_TO_C

    @property
    def flammable(self) -> bool:
        """Whether its vapour burns in air."""
        return self.lower_flammable_limit_pct is not None
