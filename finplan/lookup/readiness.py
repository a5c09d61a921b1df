"""How long until a finish or a whole system is ready for light use, in the air in which nominal times hold."""

from __future__ import annotations

from finplan.catalogue import Catalogue, Finish, System
from finplan.quantity import NOTHING, Range


def ready_h(record: object, catalogue: Catalogue) -> Range | None:
    """Return the time from the first coat until light use, at 23 °C and 50 % humidity. [h]

    Work itself, nights and the shop's own air are left out: they are the timetable's to add. None where the record is
    neither a finish nor a system, or where nothing is known of light use.

    Parameters
    ----------
    record
        Any record of the catalogue
    catalogue
        Where the finishes of a system are looked up

    Examples
    --------
    >>> from finplan.catalogue import bundled_catalogue
    >>> catalogue = bundled_catalogue()
    >>> ready_h(catalogue.finishes["shellac"], catalogue)
    Range(low=24.0, typical=24.0, high=24.0)
    >>> ready_h(catalogue.systems["hardwax-oil"], catalogue)  # recoat 8/12/24 h, then 1/2/3 d
    Range(low=32.0, typical=60.0, high=96.0)
    """
    if isinstance(record, Finish):
        return record.light_use_h
    return _system_ready_h(record, catalogue) if isinstance(record, System) else None


def _system_ready_h(system: System, catalogue: Catalogue) -> Range | None:
    """Return when the slowest of its coats is ready: a soft one under a quick one counts as well."""
    at, ready = NOTHING, NOTHING
    known = False
    for step in system.steps:
        job = catalogue.work.get(step.do)
        if job is not None and job.wait_h is not None:
            at = at.plus(job.wait_h)
        if not step.finish:
            continue
        finish = catalogue.finishes[step.finish]
        if finish.light_use_h is not None:
            ready = ready.greater(at.plus(finish.light_use_h))
            known = True
        at = at.plus(finish.recoat_h)
    return ready if known else None
