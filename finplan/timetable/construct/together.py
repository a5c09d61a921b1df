"""How late pieces could be begun together, for their wet coats to have room on one rack: a bound on the sum."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from finplan.timetable.construct.capacity import Off, lets_go, off_rack, takes, turn_back
from finplan.timetable.construct.network import Network
from finplan.timetable.setting import Setting

_CUTS = 6
"""So many lengths are tried of which a coat has to be to be looked at."""
_IDLE = 300
"""At so many moments the rack may lie idle, where dates lie far apart."""
_DAYS, _EACH = 7, 20
"""Over so many days before the last date it is looked how long coats lie, so often a day."""


@dataclass(frozen=True, slots=True)
class Lying:
    """A coat while it takes places of the rack."""

    piece: str
    off: Off
    until: int
    """When it is off the rack at the latest."""
    takes: int


def latest_sum(
    network: Network,
    setting: Setting,
    starts: Mapping[str, Mapping[str, int]],
    alone: Mapping[str, int],
    value: Callable[[int], int],
) -> int:
    """Return what no plan's starts come to more than, all together.

    Parameters
    ----------
    network, setting
        The tasks, and the shop
    starts
        By piece key, how late each of its tasks could start by its waits
    alone
        By piece key, how late it could be begun alone
    value
        What a start is worth: never less for a later one

    Notes
    -----
    Moments are set back one by one as in ``latest_for_rack``: each coat is there at one of them at least, and at each
    there is room for so much. Looked at backwards a piece is a job that comes with its date, and takes what its coats
    do; whichever has least left goes first, which leaves the fewest jobs undone at every moment, and so makes any sum
    of such values least (Schrage, "A proof of the optimality of the shortest remaining processing time discipline",
    1968, from memory). That holds for any of the pieces, the others as late as alone, and for any of the coats.
    """
    best = sum(map(value, alone.values()))
    rack = setting.shop.rack
    for places, capacity in ((True, rack.places), (False, rack.hooks)):
        coats = list(_coats(network, setting, starts, places=places))
        for some in _cut(coats, setting):
            amounts: dict[str, int] = {}
            for coat in some:
                amounts[coat.piece] = amounts.get(coat.piece, 0) + coat.takes
            moments = _moments(some, sum(amounts.values()) // capacity + _IDLE, setting)
            largest = sorted(amounts, key=lambda key: (-amounts[key], key))
            for count in range(1, len(largest) + 1):
                taken = set(largest[:count])
                begun = least_left([lying for lying in some if lying.piece in taken], moments, capacity)
                if begun is not None:
                    others = (value(at) for key, at in alone.items() if key not in taken)
                    best = min(best, sum(map(value, begun)) + sum(others))
    return best


def _coats(
    network: Network, setting: Setting, starts: Mapping[str, Mapping[str, int]], *, places: bool
) -> Iterator[Lying]:
    """Give the coats that take places of one kind."""
    offs: dict[tuple[object, ...], Off] = {}
    for key, of_piece in starts.items():
        for task in network.of_piece(key):
            amount = takes(task, places=places)
            if task.wet is not None and amount:
                rules = lets_go(network, task)
                off = offs.setdefault((task.wet.lifted, rules, task.slots), off_rack(task, rules, setting))
                yield Lying(key, off, off(of_piece[task.name]), amount)


def _cut(coats: Sequence[Lying], setting: Setting) -> Iterator[list[Lying]]:
    """Give the coats that lie longest, ever more of them."""
    if not coats:
        return
    day = 24 * 60 // setting.slot_min
    last = max(coat.until for coat in coats)
    looked = range(max(0, last - _DAYS * day), max(1, last), max(1, day // _EACH))
    lengths = {
        off: sorted(off(start) - start for start in looked)[len(looked) // 2] for off in {coat.off for coat in coats}
    }
    cuts = sorted(set(lengths.values()), reverse=True)
    for cut in cuts[:: -(-len(cuts) // _CUTS)]:
        yield [coat for coat in coats if lengths[coat.off] >= cut]


def _moments(coats: Sequence[Lying], count: int, setting: Setting) -> list[int]:
    """Return moments of which every coat is there at one, the last first: so many, or fewer where time begins."""
    offs = dict.fromkeys(coat.off for coat in coats)
    at = max(coat.until for coat in coats)
    moments: list[int] = []
    while len(moments) < count:
        at = turn_back(offs, at, setting)
        if at < 0:
            break
        moments.append(at)
    return moments


def least_left(coats: Iterable[Lying], moments: Sequence[int], capacity: int) -> list[int] | None:
    """Return by when pieces would be begun of which that with least left goes first; None where time is too short."""
    left: dict[str, int] = {}
    until: dict[str, int] = {}
    for coat in coats:
        left[coat.piece] = left.get(coat.piece, 0) + coat.takes
        until[coat.piece] = max(until.get(coat.piece, 0), coat.until)
    begun: list[int] = []
    for moment in moments:
        room = capacity
        for key in sorted((key for key in left if until[key] > moment), key=lambda key: (left[key], key)):
            done = min(room, left[key])
            left[key] -= done
            room -= done
            if not left[key]:
                del left[key]
                begun.append(moment)
    return None if left else begun
