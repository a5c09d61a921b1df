"""Finish types: how far they go, what they hold, how they dry, what they ask and what they endanger."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field, PlainValidator, ValidationError, ValidationInfo

from finplan.catalogue.record import Sourced
from finplan.reading import (
    ConcentrationRange,
    DurationHRange,
    Form,
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
    """Surface that one litre covers; of what is sprayed, of what lands on the piece."""

    first_m2_l: SpreadRateRange
    """The first coat, on bare wood."""
    next_m2_l: SpreadRateRange
    """Coats after it."""


class Limits(Record):
    """The air in which it may be put on."""

    temperature_c: TemperatureSpan
    """Of the air, the piece and the material."""
    humidity_pct: PercentageSpan
    """Relative humidity."""


class Hazards(Record):
    """What it endangers. Every field has to be said, so that none is forgotten."""

    self_heating: bool
    """Cloths and dust wet with it can catch fire by themselves."""
    flammable: bool
    """It gives off vapour that burns."""
    isocyanate: bool = False
    """Its hardener holds isocyanate."""
    sensitiser: bool = False
    """It may make skin or lungs allergic for good."""
    acid: bool = False
    """Its catalyst is an acid."""


class Part(Record):
    """One component of a product that is mixed before use."""

    name: Title
    """What it is called."""
    parts: float = Field(gt=0)
    """How much of it, by volume."""


class Mix(Record):
    """What is mixed before use, and how long the mix can be worked. Duration in h."""

    components: tuple[Part, ...] = Field(min_length=2)
    """What goes in, in order."""
    pot_life_h: DurationHRange
    """How long it can be worked."""


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
    """What it holds."""
    price: Annotated[float | None, PlainValidator(_price), Form("a number: 61.50")] = None
    """A number without a currency."""


Packs = Annotated[
    tuple[Pack, ...], PlainValidator(_packs), Form("a list: [250 ml, 1 l], or with prices [{size: 1 l, price: 61.50}]")
]


class PackSizes(Sourced):
    """The sizes in which finishes are commonly sold in one system of units."""

    sizes: Packs
    """The sizes, prices left out."""


class Finish(Sourced):
    """A generic finish type. Durations in h at 23 °C and 50 % humidity, thin coats, moving air."""

    family: Family
    """What sort of finish it is."""
    drying: DryingLaw
    """What sets the pace of drying, a record of drying.yaml."""
    film_forming: bool
    """It builds a film; else it soaks in."""
    spread_rate: SpreadRate
    """Surface that one litre covers."""
    volume_solids_pct: PercentageRange
    """What stays of its volume when it has dried."""
    voc_g_l: ConcentrationRange
    """Volatile organic compounds, as sold."""
    voc_solvent: Name | None = None
    """What most of its volatile organic compounds are; none where it holds none."""
    methods: tuple[Name, ...] = Field(min_length=1)
    """Ways of putting it on, the usual one first."""
    touch_dry_h: DurationHRange
    """Until a light touch takes nothing off."""
    dust_free_h: DurationHRange | None = None
    """Until dust no longer sticks."""
    recoat_h: DurationHRange
    """Until the next coat may go on."""
    recoat_limit_h: DurationHRange | None = None
    """After this the coat must be abraded before the next; none where any time will do."""
    handle_h: DurationHRange
    """Until the piece can be handled and stacked with care."""
    light_use_h: DurationHRange | None = None
    """Until the piece can be used lightly; none of what always goes under something else."""
    cure_h: DurationHRange | None = None
    """Until it is as hard as it gets."""
    wipe_off_h: DurationHRange | None = None
    """When the surplus is wiped off, after it was put on; none where nothing is wiped off."""
    apply: Limits
    """The air in which it may be put on."""
    mix: Mix | None = None
    """What is mixed before use; none where it comes ready."""
    shelf_life_h: DurationHRange | None = None
    """How long it keeps in the tin."""
    thinner: Title | None = None
    """What thins it, as a person is told; none where it is not thinned."""
    thinner_solvent: Name | None = None
    """The record of what thins it; none where that is the product's own."""
    clean_up: Title
    """What cleans tools, as a person is told."""
    clean_up_solvent: Name | None = None
    """The record of what cleans tools; none where that is the product's own."""
    hazards: Hazards
    """What it endangers."""
    raises_grain: bool
    """Water in it lifts the fibres of bare wood."""
    goes_as: Name | None = None
    """The finish as which it goes over and under others; as itself where none is named."""
    waxed: bool = False
    """It holds wax, as shellac does from which it was not taken."""
    stearated: bool = False
    """It holds stearate, a soap that makes it easy to sand."""
    packs: Packs | None = None
    """Sizes in which it is sold; those of packs.yaml where none are given."""
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
    """Factor for the first coat, on bare wood."""
    later: RatioRange
    """Factor for later coats."""
