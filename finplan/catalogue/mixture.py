"""What is mixed or dissolved before a finish is put on, and how long that can be worked."""

from pydantic import Field

from finplan.catalogue.pack import Packs
from finplan.catalogue.ranges import DensityRange, StrengthGL
from finplan.reading import DurationHRange, Name, Record, Title


class MixComponent(Record):
    """One component of a product that is mixed before use."""

    name: Title
    """What it is called."""
    parts: float = Field(ge=0.001, le=1000)
    """How much of it, by volume."""
    density_g_l: DensityRange | None = None
    """Mass of a litre of it; none where it is not weighed."""
    packs: Packs | None = None
    """Sizes in which it is sold by itself; none where all components are sold as one set."""
    shelf_life_h: DurationHRange | None = None
    """How long it keeps once opened, where that is not as of the whole product."""


class Mix(Record):
    """What is mixed before use, and how long the mix can be worked. Duration in h."""

    components: tuple[MixComponent, ...] = Field(min_length=2)
    """What goes in, in order."""
    pot_life_h: DurationHRange
    """How long it can be worked."""

    @property
    def shares(self) -> tuple[float, ...]:
        """The share of each component in the mix, by volume, in their order."""
        total = sum(part.parts for part in self.components)
        return tuple(part.parts / total for part in self.components)

    @property
    def sold_apart(self) -> bool:
        """Whether its components are sold one by one rather than as a set."""
        return any(part.packs is not None for part in self.components)


class Dissolve(Record):
    """A dry solid that the shop dissolves or stirs into a liquid: flakes, powder."""

    solid: Title
    """What is bought dry: flakes."""
    density_g_l: DensityRange
    """Mass of a litre of the solid itself, without the air between its grains."""
    loose_g_l: DensityRange | None = None
    """Mass of a litre of it as poured into a cup; none where it is weighed."""
    liquid: Name
    """What it goes into."""
    strength_g_l: StrengthGL
    """Mass of solid to a litre of liquid: 120 g/l, or 1 lb/gal, a one pound cut."""
    wait_h: DurationHRange | None = None
    """Until it has dissolved."""
    pot_life_h: DurationHRange | None = None
    """How long the mixture can be used; none where that is its shelf life."""
    shelf_life_h: DurationHRange | None = None
    """How long the solid keeps dry."""
