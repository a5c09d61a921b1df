"""Coating systems: the ordered steps from bare wood to the finished surface."""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from finplan.catalogue.ranges import DryFilmRange
from finplan.catalogue.record import Grit, Sourced
from finplan.reading import Form, Name, Percentage, Reads, Record, Sentence, Title, fail

PoreClass = Literal["ring-porous", "semi-ring-porous", "diffuse-porous", "softwood"]
StepDeed = Literal["sand", "raise-grain", "fill", "coat", "abrade", "rub-out", "extra"]
ProgressionKind = Literal["normal", "strict", "paint"]
StopClass = Literal["open", "closed", "softwood", "oily"]

MOST_STEPS = 60
"""Steps of one recipe: French polishing in its many sessions has fewer, and each of them is planned."""
_DEEDS: tuple[StepDeed, ...] = ("sand", "raise-grain", "fill", "coat", "abrade", "rub-out", "extra")


class StopGrit(Record):
    """The last grit on bare wood, by kind of timber."""

    open: Grit
    """Ring-porous, semi-ring-porous or large-pored: oak, ash, walnut, mahogany."""
    closed: Grit
    """Diffuse-porous: maple, beech, birch, cherry."""
    softwood: Grit
    """Softwoods: pine, spruce, larch."""
    oily: Grit
    """Oily timbers: teak, iroko."""

    def of(self, stop_class: StopClass) -> Grit:
        """Return the last grit on timber of one kind."""
        return {"open": self.open, "closed": self.closed, "softwood": self.softwood, "oily": self.oily}[stop_class]


def _deed(value: object) -> StepDeed:
    for deed in _DEEDS:
        if value == deed:
            return deed
    fail(f"'{str(value)[:30]}' is not a step", f"expected one of {', '.join(_DEEDS)}")


class Step(Record):
    """One step of a system. ``finish`` and ``method`` belong to coats, ``grit`` to abrading."""

    do: Annotated[StepDeed, Reads(_deed), Form(f"one of {', '.join(_DEEDS)}")]
    """What is done."""
    finish: Name | None = None
    """What is put on, for a coat or a filling."""
    methods: tuple[Name, ...] = ()
    """Ways of putting it on, the preferred one first; the first that the shop has is used."""
    thin_pct: Percentage = 0.0
    """Thinner, by volume of the finish."""
    dry_film_um: DryFilmRange | None = None
    """How thick the coat is to be when it has dried; none where it is planned by the spread rate."""
    grit: Grit | None = None
    """With what it is abraded or rubbed out."""
    extra: Name | None = None
    """Which step beside the coats it is, where it is one."""
    called: Title | None = None
    """What it is called in a row of work, where that is not as usual: seal the edges."""
    note: Title | None = None
    """What to mind."""


class Ratings(Record):
    """What the customer gets, 1 (poor) to 5 (excellent), as commonly rated in the trade."""

    water: int = Field(ge=1, le=5)
    """Resistance to water."""
    heat: int = Field(ge=1, le=5)
    """Resistance to heat."""
    wear: int = Field(ge=1, le=5)
    """Resistance to wear."""
    repair: int = Field(ge=1, le=5)
    """How easily it is mended."""


class Repair(Record):
    """What the customer is told of mending it."""

    scratch: Sentence
    """A scratch."""
    ring: Sentence
    """A ring or a stain."""
    worn: Sentence
    """A place that is worn or has gone dull."""


class System(Sourced):
    """A coating system."""

    sheen: Title
    """Gloss and colour."""
    use: Title
    """What furniture it suits."""
    opaque: bool = False
    """Paint, which hides the wood."""
    outdoors: bool = False
    """Whether what it is on may stand outdoors, in rain, frost and sun; furniture that is meant for indoors is not."""
    flat: bool = False
    """Meant to be flat, so that pores that show are a fault."""
    progression: ProgressionKind
    """How far the grade may rise in one step: a cap of caps.yaml."""
    stop_grit: StopGrit
    """The last grade on bare wood, by kind of timber."""
    end_grain_steps: int = Field(ge=0, le=3)
    """How many grades finer than the faces end grain is sanded."""
    steps: tuple[Step, ...] = Field(min_length=1, max_length=MOST_STEPS)
    """What is done, in order."""
    ratings: Ratings
    """What the customer gets, 1 to 5."""
    about: Sentence | None = None
    """What it is, for a customer who knows no finishes."""
    care: tuple[Title, ...] = ()
    """What the customer is told of keeping it."""
    repair: Repair | None = None
    """What the customer is told of mending it."""
    renewed_with: Name | None = None
    """The finish with which its owner renews it at home; none where only a workshop does."""

    @model_validator(mode="after")
    def _coats_what_is_sanded(self) -> Self:
        deeds = [step.do for step in self.steps]
        if "coat" not in deeds:
            fail("no coat is put on", "expected at least one step with 'do: coat'", ("steps",))
        if "sand" not in deeds[: deeds.index("coat")]:
            fail("the first coat goes on wood that nobody has sanded", "expected 'do: sand' first", ("steps",))
        return self

    def finishes(self) -> tuple[str, ...]:
        """Return the finishes it uses, each once, in order."""
        return tuple(dict.fromkeys(step.finish for step in self.steps if step.finish))
