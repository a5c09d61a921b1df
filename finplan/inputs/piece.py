"""One piece of furniture, its parts and how it is to be finished."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from finplan.inputs.asked_step import AfterSteps, AskedStep, BeforeSteps
from finplan.inputs.prices import PackPrice, Prices
from finplan.inputs.sample import Sample, SampleBoard
from finplan.inputs.shapes import Part
from finplan.problems import shown
from finplan.quantity import known_length_unit
from finplan.reading import (
    LAST_YEAR,
    Day,
    Form,
    GivenDate,
    Name,
    Reads,
    Record,
    Title,
    fail,
    whole_number,
)

EARLIEST_BUILT = 1000
MAX_SET = 24
"""Alike pieces of one file."""
MAX_ACCEPTED = 100
"""Warnings that one file accepts."""
LeadTest = Literal["clear", "lead"]
"""No layer holds lead; one does."""


def _length_unit(value: object) -> str:
    if not known_length_unit(value):
        fail(f"{shown(value)} is not a unit of length", "expected mm, cm, m, in or ft")
    return str(value)


def _year(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not EARLIEST_BUILT <= value <= LAST_YEAR:
        fail(f"{shown(value)} is not a year", f"expected one from {EARLIEST_BUILT} to {LAST_YEAR}, such as 1965")
    return value


def _set(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= MAX_SET:
        fail(f"{shown(value)} is not a number of alike pieces", f"expected a whole number from 1 to {MAX_SET}")
    return value


class Refinish(Record):
    """A piece that was finished before."""

    built: Annotated[int, Reads(_year), whole_number(EARLIEST_BUILT, LAST_YEAR, "a year")] | None = None
    """When it was built: what was painted long ago may hold lead."""
    lead_test: LeadTest | None = None
    """What a test of every layer of the old coating came to; without one it may hold lead."""
    strip: Name | None = None
    """How the old coating is taken off, down to bare wood: chemical, heat, scrape, or a way of the shop's own."""
    keep: bool = False
    """Whether the old coating stays: it is cleaned, dulled, and gets the last coat of the system once more."""

    @model_validator(mode="after")
    def _says_something(self) -> Self:
        if self.built is None and self.lead_test is None and self.strip is None and not self.keep:
            fail("nothing is said in it", "expected built: with a year, lead-test: clear or lead, strip: or keep: true")
        if self.strip is not None and self.keep:
            fail("the old coating is stripped and kept", "give strip: or keep: true, not both", ("keep",))
        return self


_UNIT_FORM = Form("a unit of length: mm", {"enum": ["mm", "cm", "m", "in", "ft"]})


class Head(Record):
    """What a piece file says of the whole piece."""

    piece: Title
    """What it is called, as printed at the head of the sheet."""
    customer: Title | None = None
    """Who it is for; printed too."""
    units: Literal["metric", "us"] | None = None
    """How results are shown; where nothing is said, as in the shop file."""
    lengths: Annotated[str | None, Reads(_length_unit), _UNIT_FORM] = None
    """The unit of a length that is written without one. Without it every length has its own."""
    timber: Name | None = None
    """The wood of all parts that name no other."""
    system: Name | None = None
    """The coating system of all parts that name no other."""
    deliver: Day | None = None
    """When it has to be there."""
    refinish: Refinish | None = None
    """That it was finished before: how old it is, whether its paint was tested for lead, and what becomes of it."""
    before: BeforeSteps = ()
    """Steps beside the coats that every item gets before its first coat, in this order."""
    after: AfterSteps = ()
    """Steps beside the coats that come after the last coat, in this order."""
    sample: Sample | None = None
    """That a sample board is made first, and the first coat waits for its approval; or that it was approved."""
    set_: Annotated[int, Reads(_set), whole_number(1, MAX_SET)] = 1
    """How many pieces there are that are the same in everything: each is planned by itself, all are drawn once."""
    prices: Prices = Field(default_factory=dict)
    """What packs cost that are bought for this piece, where that is not as the shop file says."""
    accept: tuple[Name, ...] = Field((), max_length=MAX_ACCEPTED)
    """Warnings that are meant so, by their names: they are not told again."""


class Assembly(Record):
    """Parts joined before finishing, and then coated as one."""

    parts: tuple[Name, ...]
    """The parts that are joined, by their names."""
    system: Name | None = None
    """Its coating system, where it is not the piece's."""
    before: BeforeSteps | None = None
    """Steps beside the coats that it gets before its first coat, where they are not the piece's."""
    after: AfterSteps | None = None
    """Steps beside the coats that it gets after its last coat, where they are not the piece's."""


class Joint(Record):
    """Faces glued to a face of another part: covered there, and the same patch taken off the other part.

    All parts of that name are joined, count by count: the ends of four aprons take their patches off four legs, two
    off each.
    """

    from_: Name
    """The part that is joined to another."""
    face: Name
    """The face of it that is glued, which gets no finish."""
    to: Name
    """The part that it is joined to."""
    on: Name
    """The face of that from which the patch is taken off."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of furniture. Parts and assemblies are in the order of the file."""

    name: str
    customer: str | None
    units: Literal["metric", "us"] | None
    timber: str | None
    system: str | None
    deliver: GivenDate | None
    parts: Mapping[str, Part]
    assemblies: Mapping[str, Assembly] = field(default_factory=dict)
    joints: tuple[Joint, ...] = ()
    built: int | None = None
    """When a piece that is refinished was built."""
    lead_test: LeadTest | None = None
    """What a test of its old coating came to; None where nobody says."""
    strip: str | None = None
    """How its old coating is taken off; None where it is not."""
    keep: bool = False
    """Whether its old coating stays and gets one more coat."""
    before: tuple[AskedStep, ...] = ()
    """Steps beside the coats that its items get before their first coat, unless they say otherwise."""
    after: tuple[AskedStep, ...] = ()
    """Steps beside the coats that come after the last coat."""
    sample: SampleBoard | None = None
    """The sample board that is to be approved first; None where none is asked for."""
    alike: int = 1
    """How many pieces there are that are the same in everything."""
    prices: Mapping[str, tuple[PackPrice, ...]] = field(default_factory=dict)
    """What packs cost that are bought for it, where that is not as the shop file says."""
    accepted: tuple[str, ...] = ()
    """The warnings that its file accepts, by their names."""

    @property
    def refinished(self) -> bool:
        """Whether its old coating is taken off, or kept and renewed: it is no new piece, and comes together."""
        return self.strip is not None or self.keep

    def timber_of(self, part: str) -> str | None:
        """The timber of a part: its own, else the piece's."""
        return self.parts[part].timber or self.timber

    def items(self) -> dict[str, tuple[str, ...]]:
        """What is coated as one: each assembly, and each part that is in none, with the parts it is made of."""
        grouped = {part: name for name, assembly in self.assemblies.items() for part in assembly.parts}
        items: dict[str, tuple[str, ...]] = {}
        for part in self.parts:
            name = grouped.get(part, part)
            items[name] = (*items.get(name, ()), part)
        return items

    def count_of(self, item: str) -> int:
        """How many things an item is: an assembly is one, of a part by itself there are as many as the file says."""
        return 1 if item in self.assemblies else self.parts[item].count


OF_PIECE = " of piece"
"""Stands before the number in a set, where that number alone could be taken for one of several alike parts."""


def item_in_set(item: str, number: int, count: int) -> str:
    """Return what an item of one piece of a set is called; the number of the piece ends it.

    Parameters
    ----------
    item
        As the piece file names it
    number
        Of the piece in the set, counted from 1
    count
        How many of the item there are in one piece

    >>> item_in_set("chair", 2, 1), item_in_set("front leg", 2, 4)
    ('chair 2', 'front leg × 4 of piece 2')
    """
    return f"{item} {number}" if count == 1 else f"{item} × {count}{OF_PIECE} {number}"


def item_in_one(item: str, number: int, *, several: bool) -> str:
    """Return what an item of one piece of a set is called without the number of the piece, as that was put behind it.

    Parameters
    ----------
    item, number
        Its name, as ``item_in_set`` made it, and the number in it; 0 where the piece is of no set
    several
        Whether there are several of the item in one piece

    >>> item_in_one("chair 2", 2, several=False), item_in_one("front leg × 4 of piece 2", 2, several=True)
    ('chair', 'front leg × 4')
    """
    return item.removesuffix(f"{OF_PIECE if several else ''} {number}") if number else item
