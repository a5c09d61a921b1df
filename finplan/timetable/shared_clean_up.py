"""Which coats may share a clean-up: those with the same finish, tool and thinner, one right after the other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from finplan.climate import shop_pot_life
from finplan.scheduling import SerialBatch
from finplan.timetable.alike import Turns
from finplan.timetable.job import PieceWork
from finplan.timetable.operation import Operation
from finplan.timetable.setting import Setting

MANY_TOGETHER = 12
"""Of more coats than these a search looks only at those of the same number, so that the model stays small."""
CoatsOfPieces = Sequence[tuple[PieceWork, Operation]]


def clean_up_batches(coats: CoatsOfPieces, setting: Setting, turns: Sequence[Turns] | None) -> Iterator[SerialBatch]:
    """Give the coats that may share a clean-up, with their clean-ups.

    Parameters
    ----------
    coats
        All coats that are still to be put on
    setting
        The shop
    turns
        Items that take turns: among them only the next one follows, and of many coats only those of the same number, so
        that a search stays small; None to leave out nothing that the shop allows
    """
    alike: dict[tuple[object, ...], list[tuple[PieceWork, Operation]]] = {}
    for piece, coat in coats:
        alike.setdefault(clean_up_kind(piece, coat, setting), []).append((piece, coat))
    for members in alike.values():
        names = tuple(coat.id for _, coat in members)
        tails = tuple(coat.clean_up.id for _, coat in members if coat.clean_up is not None)
        longest = pot_life_slots(members[0][1], setting) if len(members) > 1 else None
        yield SerialBatch(names, tails, longest, None if turns is None else _followers(members, turns))


def clean_up_kind(piece: PieceWork, coat: Operation, setting: Setting) -> tuple[object, ...]:
    """Return what two coats have in common that may share a clean-up: finish, tool and thinner."""
    pauses = any(setting.pauses(coat, person) for person in setting.who(coat))
    thinner = None if coat.step is None else coat.step.recipe.thin_pct
    return (coat.finish, coat.method, thinner, (piece.key, coat.id) if pauses else "")


def pot_life_slots(coat: Operation, setting: Setting) -> int | None:
    """Return how many slots a mix can be worked; None where nothing is mixed."""
    finish = setting.catalogue.finishes[coat.coated_with]
    life = None if finish.mix is None else shop_pot_life(finish, setting.catalogue, setting.shop.climate)
    return None if life is None else int(life.low * 60 // setting.slot_min)


def _followers(coats: CoatsOfPieces, turns: Sequence[Turns]) -> frozenset[tuple[str, str]]:
    """Return which coat may follow which; of items that take turns the next one's own, or the first of others."""
    names = [coat.id for _, coat in coats]
    numbers = {coat.id: None if coat.step is None else coat.step.coat for _, coat in coats}
    few = len(names) <= MANY_TOGETHER
    pairs = {pair: turn for turn in turns for pair in turn.pairs()}
    group = {name: of_pair for pair, of_pair in pairs.items() for name in pair}
    firsts = set(names) - {after for _, after in pairs}
    lasts = set(names) - {before for before, _ in pairs}
    return frozenset(
        (name, other)
        for name in names
        for other in names
        if name != other
        and (few or numbers[name] == numbers[other])
        and ((name, other) in pairs or (name in lasts and other in firsts and not _same_group(name, other, group)))
    )


def _same_group(one: str, other: str, group: dict[str, Turns]) -> bool:
    return one in group and group[one] is group.get(other)
