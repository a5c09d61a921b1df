"""What each item gets, in order: the recipe of its system, unrolled for this piece."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

from finplan.catalogue import DriedTo, Step, StepDeed
from finplan.inputs import LeadTest, item_in_set
from finplan.inputs.shapes import Exposure
from finplan.surface import Inside
from finplan.system.ids import in_plan, item_stem, step_id

FaceKind = Literal["flat", "profile", "end"]
"""How a face is worked: a wide flat one; an edge, moulding or turning; mostly end grain."""


@dataclass(frozen=True, slots=True)
class FaceGroup:
    """Faces of one part that are treated alike. Areas in m², of all ``count`` parts together."""

    part: str
    shape: str
    count: int
    timber: str
    faces: tuple[str, ...]
    kind: FaceKind
    exposure: Exposure
    area_m2: float
    end_grain_m2: float
    """The part of the area that drinks like end grain."""
    surface: str
    """How it comes to the bench: a name in the catalogue's surfaces."""
    coats: int | None
    """How many coats it gets; None for all of the system's."""
    veneer_mm: float | None = None
    """How thick the veneer is; None for solid wood."""
    board: str = ""
    """Which board of the part it is of, where that is of another timber than the rest."""
    start_grit: str | None = None
    """The first grade, where the file names one."""
    stop_grit: str | None = None
    """The last grade, where the file names one."""
    inside_m2: float = 0.0
    """The part of the area that nobody sees from without: of a carcase or a drawer."""
    inside: Inside | None = None
    """Inside a carcase or a drawer, the room there is; None where any way of sanding finds enough of it."""
    hollow_mm: float | None = None
    """The radius of a hollow bend that not every way of sanding follows; None of all else. [mm]"""
    number: int = 0
    """Of which of a set of alike pieces they are, counted from 1; 0 where the piece is none."""

    @property
    def name(self) -> str:
        """Part and faces, as a person says it."""
        return f"{self.part}: {self.faces_told}"

    @property
    def faces_told(self) -> str:
        """Its faces in words; behind them the board, where the face has several."""
        told = ", ".join(self.faces)
        return f"{told} ({self.board})" if self.board else told


@dataclass(frozen=True, slots=True)
class Mended:
    """What a step mends."""

    repair: int
    """The number of the repair in the record."""
    fault: str
    """A name in the catalogue's faults."""
    coat: str
    """The id of the coat that went wrong."""
    wait_h: float | None = None
    """Any other time until the next step, whatever the air; None for what is usual of such work."""


@dataclass(frozen=True, slots=True)
class LeftToDry:
    """How long a coat that went wrong is left alone."""

    until: DriedTo
    """Which stage it has to reach where it is thickest."""
    times_as_thick: float
    """How many times as thick as planned it is there."""


@dataclass(frozen=True, slots=True)
class TreatmentStep:
    """One step of a treatment."""

    id: str
    """Unique in the plan: piece, item, treatment and position."""
    do: StepDeed
    label: str
    """As it stands on the sheet: ``coat 1``, ``abrade P320``."""
    recipe: Step
    coat: int | None
    """The number of the coat, counted from 1, where the step is one."""
    finish: str | None
    method: str | None
    bare: bool
    """Whether it goes on bare wood."""
    groups: tuple[FaceGroup, ...]
    """The faces that get this step."""
    name: str = ""
    """The last part of its id: its place in the recipe of its system, counted from 1, or what was asked for."""
    count: int | None = None
    """Of a step beside the coats, how many the file says; None where it says no number."""
    sealed: tuple[FaceGroup, ...] = ()
    """Of what goes on bare wood, those of its faces on which something is already."""
    mends: Mended | None = None
    """Where it came into the plan since a coat went wrong, what it mends; None where it is one of the recipe."""
    left: LeftToDry | None = None
    """Where a coat went wrong, how far it has to dry before it is worked; None where none did."""

    @property
    def area_m2(self) -> float:
        """The area of its faces. [m²]"""
        return sum(group.area_m2 for group in self.groups)


@dataclass(frozen=True, slots=True)
class CoatStep(TreatmentStep):
    """A step that puts a finish on: a coat, or a filler of pores."""

    finish: str
    method: str


def as_coat(step: TreatmentStep) -> CoatStep:
    """Return a step of which it is known that it puts a finish on as such.

    Raises
    ------
    ValueError
        It does not.
    """
    if not isinstance(step, CoatStep):
        msg = f"step {step.id} is no coat"
        raise ValueError(msg)
    return step


def coat_step(step: TreatmentStep, finish: str, method: str) -> CoatStep:
    """Return a step as one that puts a finish on in some way."""
    names = ("id", "do", "label", "recipe", "coat", "bare", "groups", "name", "sealed", "mends", "left")
    fields = {name: getattr(step, name) for name in names}
    return CoatStep(**fields, finish=finish, method=method)


@dataclass(frozen=True, slots=True)
class Treatment:
    """One item and all that it gets of one system."""

    item: str
    parts: tuple[str, ...]
    system: str
    groups: tuple[FaceGroup, ...]
    steps: tuple[TreatmentStep, ...]
    key: str = ""
    """Goes before all ids of its piece, ``hall-bench/``; empty where there is one piece only."""
    old_paint: str | None = None
    """Why it may bear paint that holds lead; None where it does not."""
    lead_test: LeadTest | None = None
    """What a test of its old coating has come to, before the plan; None where none is known."""
    glued: bool = False
    """Whether its parts come glued together, as those of a piece that is refinished do."""
    number: int = 0
    """Which of a set of alike pieces it is of, counted from 1; 0 where the piece is none."""
    in_file: str = ""
    """What the piece file calls the item, where that is not all of its name."""

    @property
    def of_set(self) -> int | None:
        """Its number in a set; None where the piece is none."""
        return self.number or None

    @property
    def of_several(self) -> bool:
        """Whether it is several alike parts of one piece of a set, all coated as one."""
        return self.number > 0 and self.pieces > 1

    @property
    def named(self) -> str:
        """The item as the piece file names it, without count and number in a set."""
        return self.in_file or self.item

    @property
    def in_plan(self) -> str:
        """The item as a plan of several pieces knows it."""
        return in_plan(self.key, self.item)

    @property
    def loose(self) -> bool:
        """Whether it is a part by itself, and no assembly."""
        return self.parts == (self.named,)

    @property
    def stem(self) -> str:
        """What all ids of the item begin with: ``hall-bench/seat``, of a set ``chair#3``."""
        return item_stem(self.key, self.named, self.number)

    def in_set(self, number: int) -> Treatment:
        """Return the same of a piece of a set, by its number, counted from 1."""
        numbered = {group: replace(group, number=number) for group in self.groups}
        item = item_in_set(self.named, number, self.pieces)
        in_set = replace(self, item=item, in_file=self.named, number=number, groups=tuple(numbered.values()))
        steps = tuple(
            replace(
                step,
                id=step_id(in_set.stem, self.system, step.name),
                groups=tuple(numbered[group] for group in step.groups),
                sealed=tuple(numbered[group] for group in step.sealed),
            )
            for step in self.steps
        )
        return replace(in_set, steps=steps)

    @property
    def keeps_film(self) -> bool:
        """Whether an old coating stays on it: nothing is sanded to bare wood."""
        return all(step.do != "sand" for step in self.steps)

    def on_bare_wood(self, step: TreatmentStep) -> bool:
        """Return whether a step comes before the first coat."""
        first = next((index for index, coat in enumerate(self.steps) if coat.finish is not None), len(self.steps))
        return self.steps.index(step) < first

    def before_sanding(self, step: TreatmentStep) -> bool:
        """Return whether a step comes before its bare wood is sanded."""
        return any(later.do == "sand" for later in self.steps[self.steps.index(step) + 1 :])

    def after_coats(self, step: TreatmentStep) -> bool:
        """Return whether a step comes after the last coat and is none of those of its system."""
        later = self.steps[self.steps.index(step) :]
        return step.do == "extra" and not self.on_bare_wood(step) and all(known.finish is None for known in later)

    @property
    def put_on(self) -> tuple[CoatStep, ...]:
        """The steps that put a finish on, in order."""
        return tuple(step for step in self.steps if isinstance(step, CoatStep))

    @property
    def pieces(self) -> int:
        """How many things are picked up and set down: an assembly is one, loose parts are as many as there are."""
        return self.groups[0].count if self.loose else 1

    @property
    def area_m2(self) -> float:
        """The area that gets finish. [m²]"""
        return sum(group.area_m2 for group in self.groups)


def steps_by_id(treatments: Iterable[Treatment]) -> dict[str, tuple[Treatment, TreatmentStep]]:
    """Return every step with the treatment that it belongs to, by the step's id."""
    return {step.id: (treatment, step) for treatment in treatments for step in treatment.steps}
