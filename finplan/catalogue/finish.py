"""Finish types: how far they go, how they dry, what they ask and what they endanger."""

from collections.abc import Mapping
from itertools import pairwise
from typing import Literal, Self

from pydantic import Field, model_validator

from finplan.catalogue.drying import DryingLaw, DryingPace, DryingPhase
from finplan.catalogue.method import ApplicationMethod
from finplan.catalogue.mixture import Dissolve, Mix
from finplan.catalogue.pack import Measure, Packs
from finplan.catalogue.ranges import DensityRange
from finplan.catalogue.record import Sourced
from finplan.problems import Finding
from finplan.quantity import Range
from finplan.reading import (
    ConcentrationRange,
    DurationHRange,
    Name,
    PercentageRange,
    PercentageSpan,
    RatioRange,
    Record,
    SpreadRateRange,
    TemperatureC,
    TemperatureSpan,
    Title,
    check_all,
    fail,
    fail_each,
    file_name,
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


_IN_ORDER = ("touch_dry_h", "handle_h", "light_use_h", "cure_h")
"""Stages of drying that come one after the other, as far as their ranges allow.

Some are recoated before they may be handled, or while they are still tacky.
"""


class SpreadRate(Record):
    """Surface that one litre covers; of what is sprayed, of what lands on the piece.

    The range is that of products of one type, 5 to 95 of a hundred of them, put on by an average hand on average wood.
    """

    first_m2_l: SpreadRateRange
    """The first coat, on bare wood."""
    next_m2_l: SpreadRateRange
    """Coats after it."""
    by_method: dict[Name, RatioRange] = Field(default_factory=dict)
    """How many times as far a litre goes put on in another way than the usual; only what differs by over a fifth."""


class Limits(Record):
    """The air in which it may be put on."""

    temperature_c: TemperatureSpan
    """Of the air, the piece and the material."""
    humidity_pct: PercentageSpan
    """Relative humidity."""


class FilmFormation(Record):
    """Whether a film forms at all, of what dries as particles that flow together. It is not a matter of time.

    Source: Sewell, Pigment & Resin Technology 27 (1998) 173, abstract: below its minimum film-forming temperature an
    emulsion dries to a white, powdery, cracked film.
    """

    above_c: TemperatureC
    """Below it, before it is through-dry, the particles do not flow together: it dries white, powdery, cracked."""
    through_dry_h: DurationHRange
    """Until it is through-dry, and cold only slows it down."""
    otherwise: Literal["refuse", "warn"]
    """What a plan does with a coat that would get colder than that."""


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
    lime: bool = False
    """It holds lime, which burns eyes and skin."""
    powder: bool = False
    """What is stirred in, where the shop makes it up, is a powder that hangs in the air."""


class Finish(Sourced):
    """A generic finish type. Durations in h at 23 °C and 50 % humidity, thin coats, moving air."""

    family: Family
    """What sort of finish it is."""
    drying: DryingLaw
    """What sets the pace of drying until the next coat and until it can be handled, a record of drying.yaml."""
    surface_drying: DryingLaw | None = None
    """What sets the pace until it is touch-dry and dust-free; none where the same does."""
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
    left_as_sprayed: bool = False
    """It is sprayed so thin, and dries so fast, that then nothing is wiped off, unlike what is put on by hand."""
    wet_edge_h: DurationHRange | None = None
    """How long an edge stays wet enough for the next stroke to flow into it; none of what is sprayed or wiped off."""
    apply: Limits
    """The air in which it may be put on."""
    film: FilmFormation | None = None
    """Above which temperature its film forms; none where it always does."""
    mix: Mix | None = None
    """What is mixed before use; none where it comes ready."""
    dissolve: Dissolve | None = None
    """What is dissolved before use; none where it comes ready."""
    density_g_l: DensityRange | None = None
    """Mass of a litre as it is put on; none where it is not weighed."""
    sold_by: Literal["volume", "mass"] = "volume"
    """How it is sold where no packs are given; what is dissolved is sold by mass."""
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
    tinted: bool = False
    """It colours the wood, besides what else it does."""
    goes_as: Name | None = None
    """The finish as which it goes over and under others; as itself where none is named."""
    waxed: bool = False
    """It holds wax, as shellac does from which it was not taken."""
    stearated: bool = False
    """It holds stearate, a soap that makes it easy to sand."""
    packs: Packs | None = None
    """Sizes in which it is sold; those of packs.yaml where none are given. Volumes of what is dissolved: ready made."""
    contact: tuple[Literal["food", "child"], ...] = ()
    """Where ingredients are on a published list for such contact; never a promise for a product."""

    @model_validator(mode="after")
    def _can_be_measured(self) -> Self:
        if self.film_forming and self.volume_solids_pct.low <= 0:
            fail("a film is formed of nothing", "expected volume solids above 0 %", ("volume-solids",))
        if self.mix is not None and self.dissolve is not None:
            fail("it is both mixed and dissolved", "expected one of 'mix' and 'dissolve'", ("dissolve",))
        if self.wipe_off_h is not None and self.wipe_off_h.typical <= 0:
            fail("nobody wipes off at once", "expected a typical time above 0 min", ("wipe-off",))
        if self.wet_edge_h is not None and self.wet_edge_h.low <= 0:
            fail("an edge that is never wet is none", "expected times above 0 min", ("wet-edge",))
        if self.apply.temperature_c.high <= 0:
            fail("it goes on in frost alone", "expected a highest temperature above 0 degC", ("apply", "temperature"))
        by_mass = self.measure == "g" and not self.bought_dry
        if by_mass and (self.mix is not None or self.density_g_l is None):
            fail("it is sold by mass and its density is not known", "give 'density', or packs by volume", ("packs",))
        for pack in self.packs or ():
            if len(pack.parts) not in (0, 0 if self.mix is None else len(self.mix.components)):
                fail(f"a set of {len(pack.parts)} parts does not fit the mix", "expected a part each", ("packs",))
        for index, part in enumerate(self.mix.components if self.mix else ()):
            if any(pack.holds.measure != "ml" for pack in part.packs or ()):
                fail(
                    "components are mixed by volume", "expected packs by volume", ("mix", "components", index, "packs")
                )
        return self

    @model_validator(mode="after")
    def _dries_in_order(self) -> Self:
        check_all(self._stages_follow, self._can_be_recoated)
        return self

    def _stages_follow(self) -> None:
        known = [(stage, held) for stage in _IN_ORDER if (held := getattr(self, stage)) is not None]
        findings = [
            Finding(
                (file_name(later),),
                f"this comes sooner than '{file_name(sooner)}' at any rate",
                f"expected a time no shorter than '{file_name(sooner)}' has, or another for that as well",
            )
            for (sooner, before), (later, after) in pairwise(known)
            if after.high < before.low
        ]
        if findings:
            fail_each(findings)

    def _can_be_recoated(self) -> None:
        if self.recoat_limit_h is not None and self.recoat_limit_h.low < self.recoat_h.typical:
            fail(
                "by then the next coat may not go on yet, typically, so that each coat would be abraded first",
                "expected no shorter a time than 'recoat' has, or none where any time will do",
                ("recoat-limit",),
            )

    @property
    def oxidises(self) -> bool:
        """Whether it takes up oxygen as it dries, and gives off heat."""
        return "oxidation" in (self.drying, self.surface_drying)

    def wiped_after_h(self, method: ApplicationMethod) -> Range | None:
        """Return when the surplus is wiped off after it was put on in this way; None where nothing is."""
        return None if method.sprayed and self.left_as_sprayed else self.wipe_off_h

    @property
    def measure(self) -> Measure:
        """How it is bought: by volume, or by mass."""
        if self.packs is not None:
            return self.packs[0].holds.measure
        return "g" if self.dissolve is not None or self.sold_by == "mass" else "ml"

    @property
    def bought_dry(self) -> bool:
        """Whether the solid is bought that the shop dissolves, not the product ready made."""
        return self.dissolve is not None and self.measure == "g"

    @property
    def pot_life_h(self) -> Range | None:
        """How long what the shop mixes can be worked; None where it does not spoil within days."""
        if self.mix is not None:
            return self.mix.pot_life_h
        return self.dissolve.pot_life_h if self.dissolve is not None and self.bought_dry else None

    def opened_keeps_h(self, measure: Measure) -> Range | None:
        """Return how long it keeps once open, of what is dissolved the dry solid by mass and the solution by volume."""
        if self.dissolve is None:
            return self.shelf_life_h
        return self.dissolve.shelf_life_h if measure == "g" else self.shelf_life_h or self.dissolve.pot_life_h

    @property
    def surface_dry_h(self) -> float:
        """Typical time until dust no longer sticks: dust-free where known, else touch-dry. [h]"""
        return (self.dust_free_h or self.touch_dry_h).typical

    def law(self, phase: DryingPhase, paces: Mapping[str, DryingPace]) -> DryingLaw:
        """Return the law by which a phase of drying goes; *paces* are the records of drying.yaml."""
        if phase == "surface":
            return self.surface_drying or self.drying
        return (paces[self.drying].hardens_by or self.drying) if phase == "hardening" else self.drying

    @property
    def absorbed(self) -> bool:
        """Whether it soaks in rather than building a film."""
        return not self.film_forming
