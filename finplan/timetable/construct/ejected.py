"""Pieces that come too late put where they are in time, others taken out for them and put in again elsewhere."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass
from random import Random

from finplan.scheduling import Schedule
from finplan.timetable.construct.bench import Bench
from finplan.timetable.construct.laid_out import LAID_OUT_WHILE_ONE_IS_PLACED, LaidOut
from finplan.timetable.construct.network import Network
from finplan.timetable.setting import Setting

_MOST = 4
"""So many pieces are taken out for one at most."""
_SETS = 12
"""So many sets of pieces are tried to be taken out for one, of which that is taken which leaves out what is easiest."""
_SEED = 24


@dataclass(frozen=True, slots=True)
class InTime:
    """How a piece is put where it is in time: as early as can be or as late; None where it has no room for that."""

    early: Callable[[Bench, str], Bench | None]
    late: Callable[[Bench, str], Bench | None]


def all_in_time(
    plan: Schedule,
    late: Sequence[str],
    due: Mapping[str, int],
    network: Network,
    setting: Setting,
    in_time: InTime,
    work: int,
) -> Schedule | None:
    """Return a plan in which every piece is in time; None where none was found.

    Parameters
    ----------
    plan
        A plan that keeps every rule, if not every date
    late
        The keys of the pieces that are too late in it
    due
        By piece key: by when it has to be fit for the customer, where there is a date. [slot]
    network, setting
        The tasks, and the shop
    in_time
        How a piece is put where it is in time
    work
        So many tasks are placed, or laid out ten times as often, for all tries together

    Notes
    -----
    What is too late is left out, and put in again one piece after another; where one finds no room, a few others are
    taken out for it, and wait to be put in again themselves. What has found no room often is taken out seldom (Nagata
    and Bräysy, "A powerful route minimization heuristic for the vehicle routing problem with time windows", 2009, from
    memory). What is drawn at random is the same everywhere.
    """
    search = _Ejecting(plan, late, due, network, setting, in_time)
    while search.waiting and search.work < work:
        search.put_in(search.waiting.pop(0))
    return None if search.waiting else search.plan


class _Ejecting:
    def __init__(
        self,
        plan: Schedule,
        late: Sequence[str],
        due: Mapping[str, int],
        network: Network,
        setting: Setting,
        in_time: InTime,
    ) -> None:
        self.plan, self.waiting = plan, list(late)
        self.work = 0
        self._due, self._network, self._setting, self._in_time = due, network, setting, in_time
        self._random = Random(_SEED)  # noqa: S311 - no secret
        self._names = {key: [task.name for task in network.of_piece(key)] for key in _keys(network)}
        self._refused = dict.fromkeys(self._names, 1)
        """How often each found no room, and once more."""

    def put_in(self, key: str) -> None:
        """Put a piece in, with others taken out for it where it has no room; else it waits on."""
        self._refused[key] += 1
        bench = self._laid_out(key)
        laid = None if bench is None else self._either(bench, key)
        if laid is not None:
            self.plan = dict(laid.plan)
            return
        best: tuple[int, list[str], Bench] | None = None
        placed = [
            name
            for name in self._names
            if name != key and name not in self.waiting and self._begins(name) < self._due[key]
        ]
        for _ in range(_SETS):
            others = self._drawn(placed)
            tried = self._without(key, others)
            if tried is not None:
                cost = sum(self._refused[piece] for piece in tried[0])
                if best is None or cost < best[0]:
                    best = (cost, *tried)
                if not cost:
                    break
        if best is None or best[0] > self._refused[key]:
            self.waiting.append(key)
            return
        self.plan = dict(best[2].plan)
        self.waiting += best[1]

    def _without(self, key: str, others: Sequence[str]) -> tuple[list[str], Bench] | None:
        """Return the bench with a piece put in instead of others, and which of these then find no room."""
        bench = self._laid_out(key, *others)
        if bench is None:
            return None
        put = self._in_time.early if self._random.random() < 0.5 else self._in_time.late
        self.work += len(self._names[key])
        laid = put(bench, key)
        if laid is None:
            return None
        left: list[str] = []
        for piece in sorted(others, key=lambda piece: (self._due.get(piece, self._setting.slots), piece)):
            self.work += len(self._names[piece])
            again = self._in_time.late(laid, piece)
            if again is None:
                left.append(piece)
            else:
                laid = again
        return left, laid

    def _either(self, bench: Bench, key: str) -> Bench | None:
        self.work += 2 * len(self._names[key])
        return self._in_time.early(bench, key) or self._in_time.late(bench, key)

    def _laid_out(self, *keys: str) -> Bench | None:
        """Return the bench without pieces and without all that wait; None where others then break a rule."""
        bench = LaidOut(self._network, self._setting, self.plan, without={*self.waiting, *keys})
        self.work += len(self._network.tasks) // LAID_OUT_WHILE_ONE_IS_PLACED
        return bench if bench.is_sound() else None

    def _drawn(self, placed: Collection[str]) -> list[str]:
        """Return a few pieces, rather those that were seldom refused."""
        count = 1 + int(self._random.random() * _MOST)
        rank = {key: self._random.random() ** self._refused[key] for key in placed}
        return sorted(placed, key=lambda key: (-rank[key], key))[:count]

    def _begins(self, key: str) -> int:
        return min(self.plan[name].start for name in self._names[key])


def _keys(network: Network) -> list[str]:
    return list(dict.fromkeys(task.piece for task in network.tasks.values()))
