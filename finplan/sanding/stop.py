"""Where sanding bare wood stops, and why."""

from __future__ import annotations

from collections.abc import Sequence

from finplan.catalogue import System, Timber
from finplan.system import FaceGroup


def stop_grit(system: System, timber: Timber, group: FaceGroup, ladder: Sequence[str]) -> tuple[str, str]:
    """Return the last grit for a group of faces, and the reason in words.

    Parameters
    ----------
    system
        What goes on it
    timber
        What it is made of
    group
        The faces
    ladder
        The grades at hand, coarse to fine, along which end grain is taken further
    """
    stops = system.stop_grit
    if timber.oily:
        grit, kind = stops.oily, "an oily timber"
    elif timber.pores == "softwood":
        grit, kind = stops.softwood, "a softwood"
    elif timber.open_pored:
        grit, kind = stops.open, "open-pored timber"
    else:
        grit, kind = stops.closed, "close-grained timber"
    reason = f"{grit} for {kind} under {system.title.lower()}"
    if group.kind != "end" or not system.end_grain_steps:
        return grit, reason
    finer = [name for name in ladder if int(name[1:]) > int(grit[1:])]
    if not finer:
        return grit, f"{reason}; end grain would be taken finer, but no finer grade is at hand"
    taken = finer[min(system.end_grain_steps, len(finer)) - 1]
    return taken, f"{taken}, finer than the {grit} of the faces, so that end grain drinks and darkens less"
