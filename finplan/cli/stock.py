"""The commands of the shelf: what is there, and what befalls it."""

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from finplan.cli.common import tell
from finplan.cli.manners import Commands
from finplan.cli.options import JsonOption, ShopOption
from finplan.cli.wishes import now
from finplan.place import LEDGER, shop_beside

if TYPE_CHECKING:
    from collections.abc import Sequence

    from finplan.data import StockRow
    from finplan.ledger import Lot, Standing
    from finplan.planning import Workshop

stock = typer.Typer(
    cls=Commands,
    help="What stands on the shelf, by the job's record.",
    rich_markup_mode=None,
    add_completion=False,  # that is the program's
)
RecordOption = Annotated[
    Path, typer.Option("--ledger", metavar="FILE", help="The record; else finplan.ledger in this folder.")
]
LotArgument = Annotated[int, typer.Argument(metavar="LOT", help="Its number, as 'finplan stock' shows it.")]
_HERE = Path(LEDGER)


def _workshop(ledger: Path, shop: Path | None) -> "Workshop":
    from finplan.planning import read_workshop

    return read_workshop(shop_beside([ledger], shop))


@stock.callback(invoke_without_command=True)
def show(
    context: typer.Context, ledger: RecordOption = _HERE, shop: ShopOption = None, as_json: JsonOption = False
) -> None:
    """Show what stands on the shelf: how much is left, since when it is open, until when it is counted on."""
    if context.invoked_subcommand is not None:
        if (ledger, shop, as_json) != (_HERE, None, False):
            msg = f"options go behind the command: finplan stock {context.invoked_subcommand} … --ledger FILE"
            raise typer.BadParameter(msg)
        return
    from finplan.ledger import lots_standing, read_ledger

    workshop = _workshop(ledger, shop)
    with read_ledger(ledger) as record:
        lots = () if record is None else lots_standing(record)
    there = [lot for lot in lots if not lot.gone]
    tell(as_json, lambda: _data(there, workshop), lambda: [*_lines(there, workshop), *_left_out(lots, workshop)])


@stock.command()
def receive(
    material: Annotated[str, typer.Argument(metavar="MATERIAL", help="A name of the catalogue: hardwax-oil.")],
    pack: Annotated[str, typer.Argument(metavar="PACK", help="What it holds: 1 l, 250 g, 25.")],
    left: Annotated[str | None, typer.Option("--left", metavar="AMOUNT", help="What is in it, if not full.")] = None,
    batch: Annotated[str | None, typer.Option("--batch", metavar="TEXT", help="The batch on its label.")] = None,
    price: Annotated[str | None, typer.Option("--price", metavar="NUMBER", help="What it cost.")] = None,
    component: Annotated[str | None, typer.Option("--component", metavar="NAME", help="Of a finish of two.")] = None,
    grit: Annotated[str | None, typer.Option("--grit", metavar="GRIT", help="Of an abrasive: P120.")] = None,
    ledger: RecordOption = _HERE,
    shop: ShopOption = None,
) -> None:
    """Put a can or a packet on the shelf."""
    from finplan.ledger import Lot, lots_standing, open_ledger
    from finplan.ledger import receive as put_on
    from finplan.record import lot_of, price_of, words_of

    cost, marked = None if price is None else price_of(price), words_of(batch, "batch")
    workshop, moment = _workshop(ledger, shop), now()
    item = _item(workshop, material, pack, component, grit)
    lot, holds = lot_of(item)
    inside = holds if left is None else _within(lot, _item(workshop, material, left, component, grit), workshop)
    lot = Lot(lot.kind, lot.material, lot.measure, lot.pack, lot.component, lot.grit, marked, cost)
    with open_ledger(ledger) as record:
        with record.changing():
            number = put_on(record, lot, moment, moment, inside)
        lots = lots_standing(record)
    typer.echo(
        f"Lot {number}: {_named(lot.material, lot.component, lot.grit)}, {_amount(inside, lot.measure, workshop)}."
    )
    for line in _left_out(lots, workshop):
        typer.echo(line)


def _left_out(lots: "Sequence[Standing]", workshop: "Workshop") -> list[str]:
    """Return that the shop file's shelf is not counted beside the record's, where it is not in that."""
    from finplan.listing import number_of
    from finplan.record import is_taken_over

    shelf = workshop.shop.shelf
    if not lots or not shelf or is_taken_over(lots):
        return []
    told = f"{number_of(len(shelf), 'thing')} under 'shelf:' in the shop file"
    return [f"Not counted beside the record: {told}; 'finplan stock take-over' takes that in, once."]


def _within(lot: "Lot", item: Any, workshop: "Workshop", *, full: bool = True) -> float:
    """Return what is left of a lot in its measure; *full*: no more than it holds when full.

    What is told by weight of a lot by volume, or the other way round, is too much only if it is by any density that the
    catalogue has for it.
    """
    from finplan.problems import NotPossibleError
    from finplan.record import lot_of

    counted, amount = lot_of(item)
    least = amount
    if counted.measure != lot.measure:
        density = workshop.catalogue.finishes[lot.material].density_g_l if lot.kind == "finishes" else None
        if density is None:
            msg = f"{lot.material} here is measured in {lot.measure}; expected what is left of it so"
            raise NotPossibleError(msg)
        told = amount
        amount, *both = (
            told * g_l / 1000 if lot.measure == "g" else told / g_l * 1000
            for g_l in (density.typical, density.low, density.high)
        )
        least = min(both)
    if full and least > lot.pack:
        holds = _amount(lot.pack, lot.measure, workshop)
        msg = f"{_amount(amount, lot.measure, workshop)} cannot be left of what holds {holds} when full"
        raise NotPossibleError(msg)
    return min(amount, lot.pack) if full else amount


def _item(workshop: "Workshop", material: str, amount: str, component: str | None, grit: str | None) -> Any:
    """Return what is named as a thing on the shelf, checked as those of a shop file are."""
    from finplan.catalogue import grade_sizes
    from finplan.inputs import ShelfItem, shelf_findings
    from finplan.problems import FindingsError, NotPossibleError, did_you_mean
    from finplan.reading import validate

    kinds = {"finish": "finishes", "solvent": "solvents", "abrasive": "abrasives", "consumable": "consumables"}
    known = {kind: getattr(workshop.catalogue, kind) for kind in kinds.values()}
    field = next((name for name, kind in kinds.items() if material in known[kind]), None)
    if field is None:
        every = [name for kind in known.values() for name in kind]
        msg = f"{material!r} is nothing that stands on a shelf; {did_you_mean(material, every)}"
        raise NotPossibleError(msg)
    data: dict[str, Any] = {field: material, "left": int(amount) if amount.strip().isdigit() else amount}
    data |= {name: value for name, value in (("component", component), ("grit", grit)) if value is not None}
    item, findings = validate(ShelfItem, data, more={"grades": grade_sizes(workshop.catalogue)})
    if item is not None:
        findings = [finding for finding in shelf_findings([item], known) if finding.severity == "error"]
    if item is None or findings:
        raise FindingsError(findings)
    return item


@stock.command("open")
def open_lot(lot: LotArgument, ledger: RecordOption = _HERE) -> None:
    """Say that a can was opened: from now on it keeps as long as it keeps open."""
    _befall(ledger, lot, "opened")
    typer.echo(f"Lot {lot}: opened.")


@stock.command()
def count(
    lot: LotArgument,
    left: Annotated[str, typer.Argument(metavar="AMOUNT", help="What is left: 400 ml, 200 g, 7.")],
    ledger: RecordOption = _HERE,
    shop: ShopOption = None,
) -> None:
    """Say how much is left of a can, as it was counted or weighed."""
    from finplan.record import TAKEN_OVER

    workshop, stands = _workshop(ledger, shop), _lot(ledger, lot)
    full = not any(event.note == TAKEN_OVER for event in stands.events)  # else what it held is not known
    amount = 0.0
    if not _is_nothing(left):
        item = _item(workshop, stands.lot.material, left, stands.lot.component, stands.lot.grit)
        amount = _within(stands.lot, item, workshop, full=full)
    _befall(ledger, lot, "counted", amount)
    typer.echo(f"Lot {lot}: {_amount(amount, stands.lot.measure, workshop)} left.")


def _is_nothing(left: str) -> bool:
    """Return whether what was counted is an empty can: 0, 0 ml, 0 g."""
    from finplan.quantity import MASS, VOLUME, QuantityError, read_quantity

    if left.strip() == "0":
        return True
    for kind in (VOLUME, MASS):
        try:
            return read_quantity(left, kind) == 0
        except QuantityError:
            continue
    return False


@stock.command()
def discard(
    lot: LotArgument,
    note: Annotated[str | None, typer.Option("--note", metavar="TEXT", help="Why.")] = None,
    ledger: RecordOption = _HERE,
) -> None:
    """Say that a can is thrown away, by the rules for what is in it."""
    from finplan.record import words_of

    _befall(ledger, lot, "discarded", note=words_of(note, "note"))
    typer.echo(f"Lot {lot}: discarded. Leftovers go where your local rules and the safety data sheet say.")


@stock.command("take-over")
def take_over(ledger: RecordOption = _HERE, shop: ShopOption = None) -> None:
    """Take what the shop file says under 'shelf:' into the record, once; from then on the record says it."""
    from finplan.ledger import Event, lots_standing, open_ledger, write_event
    from finplan.ledger import receive as put_on
    from finplan.problems import NotPossibleError
    from finplan.record import TAKEN_OVER, is_taken_over, taken_over

    workshop, moment = _workshop(ledger, shop), now()
    lots = taken_over(workshop.shop.shelf, moment, workshop.shop.time_zone)
    with open_ledger(ledger) as record:
        if is_taken_over(lots_standing(record)):
            msg = f"{ledger}: what the shop file says was taken over before; since then the record says it"
            raise NotPossibleError(msg)
        with record.changing():
            for lot, opened in lots:
                number = put_on(record, lot, min(moment, opened or moment), moment, note=TAKEN_OVER)
                if opened is not None:
                    write_event(record, Event(number, "opened", opened, moment))
    typer.echo(f"{ledger}: {len(lots)} thing{'' if len(lots) == 1 else 's'} taken over from the shop file.")


def _lot(ledger: Path, lot: int) -> "Standing":
    """Return how a lot stands; a record that is not there is not begun for it."""
    from finplan.ledger import lots_standing, read_ledger
    from finplan.problems import NotPossibleError

    with read_ledger(ledger) as record:
        lots = () if record is None else lots_standing(record)
    stands = next((known for known in lots if known.lot.id == lot), None)
    if stands is None:
        msg = f"{ledger}: there is no lot {lot}; 'finplan stock' shows those there are"
        raise NotPossibleError(msg)
    return stands


def _befall(ledger: Path, lot: int, kind: Any, amount: float | None = None, note: str | None = None) -> None:
    from finplan.ledger import Event, open_ledger, write_event
    from finplan.problems import NotPossibleError

    stands = _lot(ledger, lot)
    if kind == "discarded" and stands.gone and any(event.kind == kind for event in stands.events):
        msg = f"lot {lot} was discarded before"
        raise NotPossibleError(msg)
    if kind == "opened" and (stands.gone or stands.opened is not None):
        msg = (
            f"lot {lot} is open already"
            if not stands.gone
            else f"nothing is left of lot {lot}; count it first if that is wrong"
        )
        raise NotPossibleError(msg)
    moment: datetime = now()
    with open_ledger(ledger) as record, record.changing():
        write_event(record, Event(lot, kind, moment, moment, amount, note=note))


def _lines(lots: "list[Standing]", workshop: "Workshop") -> list[str]:
    from finplan.cli.table import table
    from finplan.moments import show_day_seen_from
    from finplan.record import good_until

    if not lots:
        return ["Nothing stands on the shelf by the record."]
    zone, today = workshop.shop.time_zone, now().date()
    rows = []
    for lot in lots:
        until = good_until(lot, workshop.catalogue, zone)
        past = until is not None and until < today
        rows.append(
            [
                str(lot.lot.id),
                _named(lot.lot.material, lot.lot.component, lot.lot.grit),
                _amount(lot.left, lot.lot.measure, workshop),
                _amount(lot.lot.pack, lot.lot.measure, workshop),
                "sealed" if lot.opened is None else show_day_seen_from(lot.opened.astimezone(zone).date(), today),
                "" if until is None else show_day_seen_from(until, today) + (": past, not counted" if past else ""),
                lot.lot.batch or "",
            ]
        )
    return table(["lot", "material", "left", "of", "open since", "good until", "batch"], rows, "llrrlll")


def _data(lots: "list[Standing]", workshop: "Workshop") -> "StockRow":
    from finplan.data import stock_data

    return stock_data(lots, workshop.catalogue, workshop.shop.time_zone, now().date())


def _named(material: str, component: str | None, grit: str | None) -> str:
    return " ".join(name for name in (material, component, grit) if name)


def _amount(amount: float, measure: Any, workshop: "Workshop") -> str:
    from finplan.showing import show_amount

    return f"{amount:g}" if measure == "pieces" else show_amount(amount, measure, workshop.shop.units)
