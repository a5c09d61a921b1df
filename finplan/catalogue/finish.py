"""Finish types: how far they go, what they hold, how they dry, what they ask and what they endanger."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field, PlainValidator, ValidationError, ValidationInfo

from finplan.catalogue.record import Sourced
from finplan.reading import (
    ConcentrationRange,
    DurationHRange,
    Name,
    PercentageRange,
    PercentageSpan,
    RatioRange,
    Record,
    SpreadRateRange,
    TemperatureSpan,
    Title,
    VolumeMl,
    fail,
    findings_of,
)

Family = Literal[
    "oil",
    "varnish",
    "waterborne",
    "shellac",
    "lacquer",
    "reactive",
    "wax",
    "soap",
    "casein",
    "enamel",
    "primer",
    "stain",
    "dye",
    "filler",
    "sealer",
]
DryingLaw = Literal["oxidation", "reaction", "water", "solvent"]
"""What sets the pace: oxygen or a hardener (Arrhenius), evaporation of water, evaporation of solvent."""


class SpreadRate(Record):
    """Surface that one litre covers, in m²/L: the first coat on bare wood, and those after it."""

    first_m2_l: SpreadRateRange
    next_m2_l: SpreadRateRange


class Limits(Record):
    """The air in which it may be put on."""

    temperature_c: TemperatureSpan
    humidity_pct: PercentageSpan


class Hazards(Record):
    """What it endangers. Every field has to be said, so that none is forgotten."""

    self_heating: bool
    """Cloths and dust wet with it can catch fire by themselves."""
    flammable: bool
    """It gives off vapour that burns."""
    isocyanate: bool = False
    sensitiser: bool = False
    acid: bool = False


class Part(Record):
    """One component of a product that is mixed before use."""

    name: Title
    parts: float = Field(gt=0)
    """By volume."""


class Mix(Record):
    """What is mixed before use, and how long the mix can be worked. Duration in h."""

    components: tuple[Part, ...] = Field(min_length=2)
    pot_life_h: DurationHRange


def _pack(value: object, info: ValidationInfo) -> Pack:
    data: Any = value if isinstance(value, dict) else {"size": value}
    try:
        return Pack.model_validate(data, context=info.context)
    except ValidationError as error:
        first = findings_of(error, Pack)[0]
        fail(first.wrong, first.expected, first.path if isinstance(value, dict) else ())


def _packs(value: object, info: ValidationInfo) -> tuple[Pack, ...]:
    if not isinstance(value, list) or not 1 <= len(value) <= 20:
        fail("this is not a list of packs", "expected a list such as [250 ml, 1 l] or [{size: 1 l, price: 61.50}]")
    return tuple(sorted((_pack(item, info) for item in value), key=lambda pack: pack.size_ml))


def _price(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not 0 < value < 1e6:
        fail(f"'{value}' is not a price", "expected a number above zero")
    return float(value)


class Pack(Record):
    """A size in which a material is sold. Volume in ml, the price without a currency."""

    size_ml: VolumeMl
    price: Annotated[float | None, PlainValidator(_price)] = None


Packs = Annotated[tuple[Pack, ...], PlainValidator(_packs)]


class PackSizes(Sourced):
    """The sizes in which finishes are commonly sold in one system of units."""

    sizes: Packs


class Finish(Sourced):
    """A generic finish type. Durations in h at 23 °C and 50 % humidity, thin coats, moving air."""

    family: Family
    drying: DryingLaw
    film_forming: bool
    spread_rate: SpreadRate
    volume_solids_pct: PercentageRange
    voc_g_l: ConcentrationRange
    methods: tuple[Name, ...] = Field(min_length=1)
    touch_dry_h: DurationHRange
    dust_free_h: DurationHRange | None = None
    recoat_h: DurationHRange
    recoat_limit_h: DurationHRange | None = None
    """After this the coat must be abraded before the next; none where any time will do."""
    handle_h: DurationHRange
    light_use_h: DurationHRange | None = None
    cure_h: DurationHRange | None = None
    wipe_off_h: DurationHRange | None = None
    apply: Limits
    mix: Mix | None = None
    shelf_life_h: DurationHRange | None = None
    thinner: Title | None = None
    clean_up: Title
    hazards: Hazards
    raises_grain: bool
    packs: Packs | None = None
    contact: tuple[Literal["food", "child"], ...] = ()
    """Where ingredients are on a published list for such contact; never a promise for a product."""

    @property
    def surface_dry_h(self) -> float:
        """Typical time until dust no longer sticks: dust-free where known, else touch-dry. [h]"""
        return (self.dust_free_h or self.touch_dry_h).typical

    @property
    def absorbed(self) -> bool:
        """Whether it soaks in rather than building a film."""
        return not self.film_forming


class AbsorptionFactors(Sourced):
    """How much more a surface drinks than the spread rate says."""

    first: RatioRange
    later: RatioRange
