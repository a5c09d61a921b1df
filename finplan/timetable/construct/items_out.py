"""Which of the work of a plan is taken out, for it to be put back in another order around all the rest."""

from __future__ import annotations

from finplan.scheduling import Schedule
from finplan.timetable.construct.drawn import Moves
from finplan.timetable.construct.network import Network, Task
from finplan.timetable.construct.row import row_up_to

_MOST = 5
"""So many items are taken out at most, beside one that is ready last."""


def items_out(network: Network, plan: Schedule, last: tuple[str, str], moves: Moves) -> list[Task]:
    """Return what is taken out of a plan, drawn at random: all work on some items, or all of it from a moment on.

    With it goes all that waits for any of it, and all that it may not wait for.

    Parameters
    ----------
    network
        All tasks
    plan
        A plan that keeps every rule
    last
        The key of a piece and one of its items, as nothing is ready sooner while what is ready last stays where it is
    moves
        By which it is drawn

    Notes
    -----
    Large neighbourhoods, as of pieces in ``taken_out``. Where many items of few pieces wait for a small rack, all is
    ready by which of them lies there when: to let some change places moves less of the rest than another order of all.
    """
    starts = {name: plan[name].start for name in network.tasks}
    since = moves.one_of(starts.values()) if moves.one((True, False)) else 0
    items: dict[tuple[str, str], list[Task]] = {last: []}
    for task in network.tasks.values():
        if starts[task.name] >= since:
            items.setdefault((task.piece, task.operation.item), []).append(task)
    others = [item for item in items if item != last]
    out: set[str] = set()
    for item in [last, *moves.some(others, _MOST)]:
        for task in items[item]:
            _take(network, task, out)
    return [task for task in network.tasks.values() if task.name in out]


def _take(network: Network, task: Task, out: set[str]) -> None:
    if task.name in out:
        return
    out.add(task.name)
    for name in [*task.before, *(member.name for member in row_up_to(task, network))]:
        _take(network, network.tasks[name], out)
