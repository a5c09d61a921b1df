"""What things cost: the packs of a material with their prices, and what an hour of work is reckoned at."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from typing import Annotated, Any, Self

from pydantic import model_validator
from pydantic_core import PydanticCustomError

from finplan.catalogue import (
    Abrasive,
    Amount,
    Catalogue,
    Consumable,
    Finish,
    Pack,
    PiecePack,
    Solvent,
    amount,
    by_size,
    catalogue_from,
)
from finplan.problems import Finding, Where, did_you_mean, shown
from finplan.reading import (
    Currency,
    Form,
    Money,
    MoneyPerHour,
    Name,
    Reads,
    Record,
    fail,
    fail_each,
    finding_of,
    read_money,
)

PRICED = ("finishes", "solvents", "abrasives", "consumables")
"""The kinds of record that are bought."""
MAX_PRICES = 500
_MAX_PACKS = 20
_EXPECTED = "expected packs with their prices: {1 l: 61.50 EUR, 250 ml: 22 EUR}, or of pieces {50: 32 EUR}"


class HourRates(Record):
    """What an hour is reckoned at, all kinds of work alike or each by itself, without tax."""

    hour: MoneyPerHour | None = None
    """An hour of any work for which nothing else is said."""
    sanding: MoneyPerHour | None = None
    """Of sanding, between coats too."""
    coating: MoneyPerHour | None = None
    """Of putting finish on, but for spraying."""
    spraying: MoneyPerHour | None = None
    """Of spraying."""
    cleaning: MoneyPerHour | None = None
    """Of cleaning tools, and of wiping down."""
    assembly: MoneyPerHour | None = None
    """Of gluing up and putting together."""
    machine: MoneyPerHour | None = None
    """An hour in which a machine sands or a gun sprays, beside the work; none is reckoned where nothing is said."""

    @model_validator(mode="after")
    def _says_something(self) -> Self:
        if not any(money for _, money in self.given()):
            fail("nothing is said in it", "expected hour: 55 EUR, or kinds of work with a rate each")
        return self

    def given(self) -> Iterator[tuple[str, Money]]:
        """Give the rates that are there, by their names."""
        for name in type(self).model_fields:
            money = getattr(self, name)
            if money is not None:
                yield name, money


@dataclass(frozen=True, slots=True)
class PackPrice:
    """A pack by what it holds, and its price."""

    written: str
    price: Money
    count: int | None = None
    """Pieces; None of what is measured."""
    amounts: tuple[Amount, ...] = ()
    """What it holds; of a set what is in it of each component."""
    component: str | None = None
    """Of a product of several components that are sold apart, which."""

    @property
    def path(self) -> Where:
        """Where it stands under the name of its material."""
        return (self.written,) if self.component is None else (self.component, self.written)


def _pack_prices(value: object) -> tuple[tuple[PackPrice, ...], list[Finding]]:
    """Return the packs of a material, and everything that is wrong with them."""
    if not isinstance(value, dict) or not 1 <= len(value) <= _MAX_PACKS:
        return (), [Finding((), f"{shown(value)} is no group of 1 to {_MAX_PACKS} packs", _EXPECTED)]
    pack_prices: list[PackPrice] = []
    wrong: list[Finding] = []
    for key, given in value.items():
        apart = isinstance(given, dict)
        for written, price in given.items() if isinstance(given, dict) else ((key, given),):
            try:
                pack_prices.append(_pack_price(str(written), price, str(key) if apart else None))
            except PydanticCustomError as error:
                path = (str(key), str(written)) if apart else (str(written),)
                wrong.append(finding_of(error).within(*path))
    return tuple(pack_prices), wrong


def _pack_price(written: str, price: object, component: str | None) -> PackPrice:
    money = read_money(price)
    if written.isdigit() and len(written) <= 6:
        if int(written) < 1:
            fail("a pack of nothing has no price", _EXPECTED, at_key=True)
        return PackPrice(written, money, count=int(written))
    return PackPrice(written, money, amounts=tuple(amount(part) for part in written.split(" + ")), component=component)


def _prices(value: object) -> dict[str, tuple[PackPrice, ...]]:
    if not isinstance(value, dict):
        fail(f"{shown(value)} is no group of materials", f"expected names of materials, each with packs; {_EXPECTED}")
    if len(value) > MAX_PRICES:
        fail(f"{len(value)} materials are too many", f"expected at most {MAX_PRICES}")
    prices: dict[str, tuple[PackPrice, ...]] = {}
    wrong: list[Finding] = []
    for name, packs in value.items():
        prices[str(name)], findings = _pack_prices(packs)
        wrong += [finding.within(str(name)) for finding in findings]
    if wrong:
        fail_each(wrong)
    return prices


_PRICES_SCHEMA: Mapping[str, Any] = {"type": "object", "additionalProperties": {"type": "object"}}
Prices = Annotated[
    dict[Name, tuple[PackPrice, ...]],
    Reads(_prices),
    Form("materials with their packs: {hardwax-oil: {1 l: 61.50 EUR}}", _PRICES_SCHEMA),
]


def money_in(rates: HourRates | None, prices: Mapping[str, tuple[PackPrice, ...]]) -> Iterator[tuple[Where, Money]]:
    """Give every sum of money of a file, with where it stands."""
    for name, money in rates.given() if rates is not None else ():
        yield ("rates", name), money
    for name, packs in prices.items():
        for pack in packs:
            yield ("prices", name, *pack.path), pack.price


def mixed_currencies(given: list[tuple[Where, Money]], first: Currency | None) -> Iterator[Finding]:
    """Give a finding for every sum of money in another currency than the first; one without a currency is in that."""
    for path, money in given:
        if money.currency is None:
            continue
        first = first or money.currency
        if money.currency.sign != first.sign:
            wrong = f"this is in {money.currency.sign}, and other amounts are in {first.sign}"
            yield Finding(path, wrong, f"expected one currency in all of them, such as {first.sign}")


def currency_of(given: list[tuple[Where, Money]]) -> Currency | None:
    """Return the currency of sums of money, as it is first written; None where none is."""
    return next((money.currency for _, money in given if money.currency is not None), None)


def unknown_suppliers(names: Collection[str], catalogue: Catalogue) -> Iterator[Finding]:
    """Give a finding for every name under ``suppliers:`` that nothing has which is bought."""
    if not names:
        return
    known = [name for kind in PRICED for name in getattr(catalogue, kind)]
    known += [finish.dissolve.solid.lower() for finish in catalogue.finishes.values() if finish.dissolve is not None]
    for name in names:
        if name.lower() not in (*known, "default"):
            wrong, expected = f"{shown(name)} is nothing that is bought", did_you_mean(name, [*known, "default"])
            yield Finding((name,), wrong, expected, at_key=True)


def with_prices(catalogue: Catalogue, prices: Mapping[str, tuple[PackPrice, ...]]) -> tuple[Catalogue, list[Finding]]:
    """Return the catalogue in which materials are sold in the packs that have a price, and in no others.

    Parameters
    ----------
    catalogue
        What is laid under
    prices
        From a file, by the name of the material

    Returns
    -------
    :
        The catalogue, and what is wrong: an unknown material, or packs in which it is not sold
    """
    if not prices:
        return catalogue, []
    kinds = catalogue.kinds_with({})
    findings: list[Finding] = []
    for name, packs in prices.items():
        kind = next((priced for priced in PRICED if name in kinds[priced]), None)
        if kind is None:
            known = [known for priced in PRICED for known in kinds[priced]]
            wrong, expected = f"{shown(name)} is nothing that is bought", did_you_mean(name, known)
            findings.append(Finding((name,), wrong, expected, at_key=True))
            continue
        try:
            kinds[kind][name] = _priced(kinds[kind][name], packs)
        except PydanticCustomError as error:
            findings.append(finding_of(error).within(name))
    return catalogue_from(kinds, catalogue.files), findings


def _priced(record: Finish | Solvent | Abrasive | Consumable, packs: tuple[PackPrice, ...]) -> Any:
    by_piece = isinstance(record, (Abrasive, Consumable))
    for pack in packs:
        if by_piece != (pack.count is not None):
            expected = "expected how many are in a pack: {50: 32 EUR}" if by_piece else "expected what it holds: 1 l"
            fail(f"{shown(pack.written)} is not how it is sold", expected, pack.path, at_key=True)
    if isinstance(record, (Abrasive, Consumable)):
        if isinstance(record, Abrasive) and record.lengths_mm:
            fail("it is sold off a roll, of which no price is read", "leave it out")
        piece_packs = tuple(PiecePack(count=pack.count or 1, price=_number(pack.price)) for pack in packs)
        return record.model_copy(update={"packs": tuple(sorted(piece_packs, key=lambda sold: sold.count))})
    if isinstance(record, Finish) and record.mix is not None:
        return _priced_mix(record, packs)
    return record.model_copy(update={"packs": _sold(packs, 1, record)})


def _priced_mix(finish: Finish, packs: tuple[PackPrice, ...]) -> Finish:
    mix = finish.mix
    assert mix is not None  # noqa: S101 - of a mix alone
    names = [part.name for part in mix.components]
    for pack in packs:
        if pack.component is not None and pack.component not in names:
            fail(f"{shown(pack.component)} is no component of it", did_you_mean(pack.component, names), pack.path[:1])
    apart = [pack for pack in packs if pack.component is not None]
    if apart and len(apart) < len(packs):
        fail("sets and single components are mixed", "expected prices of sets, or of each component")
    if not apart:
        sets = _sold(packs, len(names), finish)
        components = tuple(part.model_copy(update={"packs": None}) for part in mix.components)
        return finish.model_copy(update={"packs": sets, "mix": mix.model_copy(update={"components": components})})
    components = tuple(
        part.model_copy(update={"packs": _sold(own, 1, finish) if own else part.packs})
        for part in mix.components
        for own in [tuple(pack for pack in apart if pack.component == part.name)]
    )
    return finish.model_copy(update={"mix": mix.model_copy(update={"components": components})})


def _sold(packs: tuple[PackPrice, ...], most: int, record: Finish | Solvent) -> tuple[Pack, ...]:
    """Return packs that are measured, the smallest first; of a set with *most* parts."""
    sold: list[Pack] = []
    for pack in packs:
        first, *others = pack.amounts
        if others and (len(pack.amounts) != most or any(held.measure != "ml" for held in pack.amounts)):
            expected = "expected a volume of each component: 1 l + 250 ml"
            fail(f"{shown(pack.written)} is no set of it", expected, pack.path, at_key=True)
        weighed = record.density_g_l is not None or (isinstance(record, Finish) and record.dissolve is not None)
        if first.measure == "g" and not weighed:
            wrong = f"{shown(pack.written)} is a mass, and its density is not known"
            fail(wrong, "expected a volume: 1 l", pack.path, at_key=True)
        price = _number(pack.price)
        sold.append(Pack(parts=pack.amounts, price=price) if others else Pack(size=first, price=price))
    return by_size(sold)


def _number(price: Money) -> float:
    return float(price.amount)
