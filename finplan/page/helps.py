"""What would help as edits of the piece file and of the shop file, and in words what they write."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import groupby

from finplan.listing import listed
from finplan.page.edits import AddItem, AnyEdit, PutValue, RemoveValue, SetValue
from finplan.page.shop_helps import ShopNow, booth, by_hand, never_colder, warmer_nights, works_more
from finplan.place import SHOP
from finplan.planning import Plan, PlannedPiece
from finplan.problems import Where, show_path
from finplan.system import Treatment
from finplan.timetable import (
    BoothGiven,
    ByHand,
    FewerCoats,
    LaterDates,
    MoreHands,
    NeverColder,
    OtherSystem,
    Remedy,
    WarmerNights,
    WouldFit,
)

_MARGIN = timedelta(days=7)
"""So long after a piece would be ready more hands are written down, since work may slip."""


@dataclass(frozen=True, slots=True)
class Writes:
    """What a button writes: edits of the piece file and of the shop file, one after the other."""

    piece: tuple[AnyEdit, ...] = ()
    shop: tuple[AnyEdit, ...] = ()

    def words(self, piece_file: str) -> tuple[str, ...]:
        """Return what is written into each file, a line each."""
        return tuple(
            f"writes into {name}: {listed(list(_edits_words(edits)))}"
            for name, edits in ((piece_file, self.piece), (SHOP, self.shop))
            if edits
        )


def _edits_words(edits: Sequence[AnyEdit]) -> Iterator[str]:
    """Give what edits write; those that write the same to places alike in all but one step are told as one."""
    for (value, _, _), alike in groupby(edits, key=_likeness):
        told = list(alike)
        first = told[0]
        if isinstance(first, SetValue | PutValue):
            yield f"{_places([edit.path for edit in told if isinstance(edit, SetValue | PutValue)])}: {value}"
        elif isinstance(first, AddItem):
            yield f"{show_path(first.path)}: one more, {first.value}"
        elif isinstance(first, RemoveValue):
            yield f"{show_path(first.path)} taken out"


def _likeness(edit: AnyEdit) -> tuple[str, Where, str]:
    if not isinstance(edit, SetValue | PutValue):
        return edit.model_dump_json(), (), ""
    if edit.path[-1] == "coats":
        return edit.value, edit.path[:-2], "coats"
    return edit.value, edit.path[:-1] if "days" in edit.path else edit.path, ""


def _places(paths: Sequence[Where]) -> str:
    first = paths[0]
    if len(paths) == 1:
        return show_path(first)
    at = next(at for at, step in enumerate(first) if paths[1][at] != step)
    braced = f"{{{', '.join(str(path[at]) for path in paths)}}}"
    return show_path((*first[:at], braced, *first[at + 1 :]))


NO_SHOP = "There is no shop.yaml in this folder yet: begin one, and this can be done here."
LOGGED = "The air of this shop is the log of what it was: heat it, and log on."
IN_THE_FILE = "This is done in the file itself."


def writes_of(fit: WouldFit, plan: Plan) -> Writes | str:
    """Return what is written so that a change is made; where nothing can be, why, in words."""
    change = fit.change
    (piece,) = (planned for planned in plan.pieces if not planned.sample)
    match change:
        case LaterDates(dates=((_, moment),)):
            return Writes(piece=(SetValue(path=("deliver",), value=f"{moment:%Y-%m-%d %H:%M}"),))
        case OtherSystem():
            return Writes(piece=(SetValue(path=("system",), value=change.system),))
        case FewerCoats():
            fewer = tuple(dict.fromkeys(_fewer_coats(piece, change.coats, plan.wishes.done)))
            return Writes(piece=fewer) if fewer else IN_THE_FILE
    document = piece.source.shop_file.document
    if document is None:
        return NO_SHOP
    edits = _of_shop(change, piece, _shop_now(document.data, plan, fit.ready))
    if edits:
        return Writes(shop=edits)
    return LOGGED if plan.shop.climate.log is not None else IN_THE_FILE


def _shop_now(data: Mapping[str, object], plan: Plan, ready: datetime) -> ShopNow:
    zone = plan.shop.time_zone
    dates = [delivery.day for delivery in plan.deliveries if delivery is not None]
    last = max([ready.astimezone(zone).date(), *dates]) + _MARGIN
    return ShopNow(data, plan.shop, plan.now.astimezone(zone).date(), last)


def _of_shop(change: Remedy, piece: PlannedPiece, now: ShopNow) -> tuple[AnyEdit, ...]:
    match change:
        case WarmerNights():
            return warmer_nights(now, change)
        case NeverColder():
            return never_colder(now, change)
        case MoreHands():
            return works_more(now, change)
        case BoothGiven():
            return booth(now, change)
        case ByHand():
            methods = piece.source.catalogue.methods
            return by_hand(now, [name for name in now.shop.methods if name in methods and methods[name].sprayed])
        case _:
            return ()


def _fewer_coats(piece: PlannedPiece, fewer: int, done: Collection[str]) -> Iterator[AnyEdit]:
    """Give the edits by which every face gets so many coats less; half of those of one finish stay, and what is on."""
    on = {operation.of_step for operation in piece.operations if operation.id in done}
    for treatment in piece.treatments:
        there = len({step.coat for step in treatment.put_on if step.coat})
        left = there - _left_out(treatment, fewer, on)
        for group in treatment.groups:
            now = there if group.coats is None else group.coats
            for face in group.faces if left < now else ():
                yield SetValue(path=("parts", group.part, "faces", face, "coats"), value=str(left))


def _left_out(treatment: Treatment, fewer: int, on: Collection[str | None]) -> int:
    coats = treatment.put_on
    alike = next((n for n, coat in enumerate(reversed(coats)) if coat.finish != coats[-1].finish), len(coats))
    last = coats[len(coats) - min(fewer, alike // 2) :]
    return len([step for step in last if step.id not in on]) if all(step.coat for step in last) else 0
