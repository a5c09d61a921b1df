"""The packs in which things are sold: by volume, by mass, as a set for two components, or by the piece."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Annotated, Any, Literal, Self

from pydantic import Field, ValidationError, ValidationInfo, model_validator

from finplan import quantity
from finplan.catalogue.record import Sourced
from finplan.problems import shown
from finplan.quantity import QuantityError
from finplan.reading import Form, Percentage, Reads, Record, fail, findings_of

Measure = Literal["ml", "g"]
"""How a material is measured: by volume or by mass."""
MIN_AMOUNT, MAX_AMOUNT = 1e-3, 1e9
"""In ml or g: a drop of a drop, and a tanker."""
MAX_PIECES = 100_000


@dataclass(frozen=True, slots=True)
class Amount:
    """So much of a material, by volume [ml] or by mass [g]."""

    value: float
    measure: Measure


def amount(value: object) -> Amount:
    """Return what a person wrote as a volume or a mass: ``1 l``, ``250 g``.

    >>> amount("1 l"), amount("2 lb").measure
    (Amount(value=1000.0, measure='ml'), 'g')
    """
    if isinstance(value, Amount):
        return value
    try:
        contents = Amount(quantity.read_quantity(value, quantity.VOLUME), "ml")
    except QuantityError as error:
        try:
            contents = Amount(quantity.read_quantity(value, quantity.MASS), "g")
        except QuantityError:
            fail(error.wrong, "expected a volume such as 250 ml, or a mass such as 500 g")
    if not MIN_AMOUNT <= contents.value <= MAX_AMOUNT:
        size = "large" if contents.value > MAX_AMOUNT else "small"
        fail(f"{shown(value)} is too {size}", "expected an amount such as 250 ml or 1 kg")
    return contents


AmountField = Annotated[Amount, Reads(amount), Form("a volume or a mass: 250 ml, 500 g")]


def _price(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not 0 < value < 1e6:
        fail(f"{shown(value)} is not a price", "expected a number above zero")
    return float(value)


Price = Annotated[float | None, Reads(_price), Form("a number: 61.50")]


class Pack(Record):
    """A size in which a material is sold, the price without a currency."""

    size: AmountField | None = None
    """What it holds; of a set all its parts together, where left out their sum."""
    parts: tuple[AmountField, ...] = ()
    """Of a set for a product of several components: what is in it of each, in their order."""
    price: Price = None
    """A number without a currency."""

    @model_validator(mode="after")
    def _says_what_it_holds(self) -> Self:
        if self.size is None and not self.parts:
            fail("field 'size' is missing", "expected what the pack holds: 1 l, or parts: [1 l, 250 ml]")
        if self.parts and any(part.measure != "ml" for part in self.parts):
            fail("a part of a set is not a volume", "expected volumes: [1 l, 250 ml]", ("parts",))
        return self

    @property
    def holds(self) -> Amount:
        """What it holds in all."""
        return self.size or Amount(sum(part.value for part in self.parts), "ml")


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
    return by_size(_pack(item, info) for item in value)


def by_size(packs: Iterable[Pack]) -> tuple[Pack, ...]:
    """Return packs, the smallest first; of which some hold volumes and others masses, they are refused."""
    ordered = tuple(sorted(packs, key=lambda pack: pack.holds.value))
    if len({pack.holds.measure for pack in ordered}) > 1:
        fail("volumes and masses are mixed", "give all packs by volume or all by mass")
    return ordered


Packs = Annotated[
    tuple[Pack, ...],
    Reads(_packs, in_context=True),
    Form("a list: [250 ml, 1 l], or with prices [{size: 1 l, price: 61.50}]"),
]


class PackSizes(Sourced):
    """The sizes in which materials are commonly sold in one system of units."""

    sizes: Packs
    """The sizes of finishes, prices left out."""
    solvents: Packs
    """The sizes of thinners and cleaners."""
    masses: Packs
    """The sizes of what is sold by mass: flakes, powder, wax."""


class PackChoice(Sourced):
    """How packs are chosen among those that are sold."""

    price_exponent: float = Field(ge=0, le=2)
    """The power of its size with which the price of a pack is taken to grow, where a price is not given."""
    second_size_pct: Percentage
    """What buying two sizes of one thing has to save against one."""
    third_size_pct: Percentage
    """What buying three sizes of one thing has to save against the best of one or two."""
    surer_pct: Percentage
    """What knowing better how far a material goes has to save of it to be told."""


class PiecePack(Record):
    """So many pieces sold together, the price without a currency."""

    count: int
    """How many pieces are in it."""
    price: Price = None
    """A number without a currency."""


def _piece_pack(value: object, info: ValidationInfo, index: int) -> PiecePack:
    data: Any = value if isinstance(value, dict) else {"count": value}
    count = data.get("count")
    if isinstance(count, bool) or not isinstance(count, int) or not 1 <= count <= MAX_PIECES:
        fail(f"'{str(count)[:20]}' is not a number of pieces", "expected how many are sold together: 10", (index,))
    try:
        return PiecePack.model_validate(data, context=info.context)
    except ValidationError as error:
        first = findings_of(error, PiecePack)[0]
        fail(first.wrong, first.expected, (index, *first.path))


def _piece_packs(value: object, info: ValidationInfo) -> tuple[PiecePack, ...]:
    if not isinstance(value, list) or not 1 <= len(value) <= 20:
        fail("this is not a list of packs", "expected a list such as [10, 50] or [{count: 10, price: 4.20}]")
    piece_packs = [_piece_pack(item, info, index) for index, item in enumerate(value)]
    return tuple(sorted(piece_packs, key=lambda pack: pack.count))


PiecePacks = Annotated[
    tuple[PiecePack, ...],
    Reads(_piece_packs, in_context=True),
    Form("a list: [10, 50], or with prices [{count: 10, price: 4.20}]"),
]
