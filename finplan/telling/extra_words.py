"""What is said of a step beside the coats: how it is done, how long to wait after it, and who has to be there."""

from __future__ import annotations

from finplan.catalogue import Catalogue
from finplan.listing import number_of
from finplan.showing import show_duration
from finplan.spans import show_range, show_work
from finplan.system import ExtraWork


def extra_lines(name: str, catalogue: Catalogue) -> tuple[str, ...]:
    """Return what is said of a step beside the coats whatever the item.

    Parameters
    ----------
    name
        Its name in the catalogue's extra-steps
    catalogue
        Where it is
    """
    record = catalogue.extra_steps[name]
    lines = list(record.say)
    if record.present is not None:
        lines.append(f"With {record.present}.")
    if record.wait_h is not None and record.wait_h.high > 0:
        lines.append(f"Then wait for {show_range(record.wait_h, show_duration)}.")
    return tuple(lines)


def extra_own_lines(work: ExtraWork) -> tuple[str, ...]:
    """Return what is said of it for one item alone: how many there are, and how long it takes."""
    takes = f"About {show_work(work.hours)}."
    counted = work.record.each_h is not None and work.count > 1
    return (f"{number_of(work.count, 'time')}: {takes[:1].lower()}{takes[1:]}",) if counted else (takes,)
