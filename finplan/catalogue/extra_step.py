"""Steps beside the coats: what a piece asks for by name, before its coats and after them."""

from typing import Literal, Self

from pydantic import Field, model_validator

from finplan.catalogue.caution import Trigger
from finplan.catalogue.record import Sourced
from finplan.catalogue.system import MOST_STEPS, Step
from finplan.reading import (
    AreaM2,
    CountRange,
    DurationH,
    DurationHRange,
    Name,
    PerAreaRange,
    Sentence,
    SpeedRange,
    SpreadRateRange,
    Title,
    fail,
)

Phase = Literal["as-found", "sanded", "coated", "together", "mending"]
"""Before anything is sanded; between sanding and the coats; on an item that is coated; on the whole piece at last;
and where a coat went wrong, which nobody asks for in a piece file."""
BEFORE: tuple[Phase, ...] = ("as-found", "sanded")
AFTER: tuple[Phase, ...] = ("coated", "together")
FitFor = Literal["handle", "light-use", "cure"]
Faces = Literal["flat", "profile", "end"]
ChargedAs = Literal["stripping", "repairing", "cleaning", "packing"]


class ExtraStep(Sourced):
    """A step beside the coats that a piece, a timber or a system asks for by its name.

    It is work of its own, with its hours, its wait and what it uses up; or it is ``steps`` of a coating system, which
    then are planned as those of any system: a filler dries in the air of the shop and is bought in cans. Speed in m² of
    surface per hour, times in h.
    """

    label: Title
    """What it is called in a row of work: steam the dents."""
    for_customer: Title
    """What is done, on the page for the customer: dents steamed out."""
    charged_as: ChargedAs | None = None
    """As which work its hours are told in a quote; none: as what its hands can do."""
    when: Phase
    """Before anything is sanded (as-found), before the coats (sanded), on a coated item, or on the whole piece."""
    steps: tuple[Step, ...] = Field((), max_length=MOST_STEPS)
    """The steps of a coating system that it is; none where it is work of its own."""
    on: tuple[Faces, ...] = ("flat", "profile", "end")
    """Which faces get it: flat ones, edges and profiles, ends."""
    opaque_only: bool = False
    """Only under paint, which hides the wood."""
    outside_only: bool = False
    """Of a whole piece only what is seen from without gets it."""
    comes_last: bool = False
    """Nothing else is done after it, but what somebody else has to be there for: it packs, or hands over."""
    speed_m2_h: SpeedRange | None = None
    """How fast it goes; none where the surface does not matter."""
    handling_h: DurationHRange | None = None
    """Per part: fetching, turning, setting down."""
    each_h: DurationHRange | None = None
    """Per thing that is counted in the piece file: a dent, a hinge; of no number, one for each part."""
    wait_h: DurationHRange | None = None
    """Until the next step may start; none where it may at once."""
    next_before_break: bool = False
    """The next step is over before the next break, and no later than the most of its wait: what it puts on dries on."""
    spare_h: DurationH = 0.0
    """So much is kept free between the end of what follows on it and the next break: a slow hand is in time too."""
    dried_on: Sentence | None = None
    """What is done where that came too late, so that it may have dried on."""
    portion_m2: AreaM2 | None = None
    """So much surface of an item at most is done at a time, with what may not wait after it; none for all of it."""
    stands: Title | None = None
    """How what it was done to stands until the next step, for a tag; none where it may be touched."""
    watch_h: DurationH = 0.0
    """So long after it somebody has to be there still, to look again; 0 where nobody has."""
    watch_by_h: DurationH = 0.0
    """No later than so long after it that is; 0 where nobody has to look."""
    skill: Literal["sanding", "coating", "assembly"] = "sanding"
    """Who can do it, and in which room it is done."""
    one_stretch: bool = False
    """It does not go on after a break."""
    dusty: bool = False
    """It makes dust that no wet coat may be beside."""
    disturbs_film: bool = False
    """It cuts, heats or dissolves an old film, and sets free what is in that."""
    not_on_lead: bool = False
    """It is not done where an old film may hold lead."""
    not_on_veneer: bool = False
    """It loosens veneer, and is warned of there."""
    bare_wood: bool = False
    """It is done to bare wood alone: water or steam on a film does nothing for the wood below, and spoils the film."""
    lifts: bool = False
    """The piece, or a part of it, is lifted or carried in it."""
    hands_over_finish: bool = False
    """It gives some of the last finish away, which then must need no hardener."""
    fit_for: FitFor = "handle"
    """How far the coats have to be before it."""
    present: Title | None = None
    """Who has to be there beside whoever does it."""
    liquids: dict[Name, SpreadRateRange] = Field(default_factory=dict)
    """Solvents that it uses up, and how far a litre of each goes."""
    uses: dict[Name, PerAreaRange] = Field(default_factory=dict)
    """Consumables that it uses up, and how many for a square metre."""
    uses_each: dict[Name, CountRange] = Field(default_factory=dict)
    """Consumables that it uses up for each thing that is counted, or for each part."""
    say: tuple[Sentence, ...] = ()
    """How it is done, for the row of work."""
    tick: Sentence | None = None
    """What is ticked, or signed, when it is done."""
    then: tuple[Name, ...] = ()
    """Steps beside the coats that always come next."""
    dangers: tuple[Trigger, ...] = ()
    """What cautions speak of: its dangers."""

    @model_validator(mode="after")
    def _is_steps_or_work(self) -> Self:
        own = [self.speed_m2_h, self.handling_h, self.each_h]
        if self.steps and any(range_ is not None for range_ in own):
            fail("it has steps of a system and times of its own", "leave speed, handling and each out", ("steps",))
        if not self.steps and all(range_ is None for range_ in own):
            fail("nothing says how long it takes", "give speed, handling or each, or steps of a system", ("label",))
        if self.steps and self.when != "sanded":
            fail("steps of a system come between sanding and the coats", "expected when: sanded", ("when",))
        if self.next_before_break and (self.wait_h is None or not self.then):
            fail(
                "what comes next is not said, or not how long it may wait",
                "give then and wait, or leave it out",
                ("next-before-break",),
            )
        if self.next_before_break != (self.dried_on is not None):
            fail("what is done where it has dried on", "goes with next-before-break alone", ("dried-on",))
        return self
