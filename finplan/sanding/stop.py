"""Where sanding bare wood stops, and why."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from finplan.catalogue import System, Timber
from finplan.catalogue.system import StopClass
from finplan.system import FaceGroup

_SAID: Mapping[StopClass, str] = {
    "open": "open-pored timber",
    "closed": "close-grained timber",
    "softwood": "a softwood",
    "oily": "an oily timber",
}


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
    grit = system.stop_grit.of(timber.stop_class)
    reason = f"{grit} for {_SAID[timber.stop_class]} under {system.title.lower()}"
    if group.kind != "end" or not system.end_grain_steps:
        return grit, reason
    finer = [name for name in ladder if int(name[1:]) > int(grit[1:])]
    if not finer:
        return grit, f"{reason}; end grain would be taken finer, but no finer grade is at hand"
    taken = finer[min(system.end_grain_steps, len(finer)) - 1]
    return taken, f"{taken}, finer than the {grit} of the faces, so that end grain drinks and darkens less"
