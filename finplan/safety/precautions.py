"""What a plan does about its dangers: circumstances, cautions, what each row asks for, and what is had and bought."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from finplan.catalogue import Catalogue
from finplan.material import Market
from finplan.quantity import Range
from finplan.safety.cartridges import CARTRIDGE, CartridgeUse, cartridge_use
from finplan.safety.cautions import RULES_FIRST, CautionLine, cautions_of, worst_cautions
from finplan.safety.circumstances import Circumstance, circumstances, in_vapour
from finplan.safety.dangers import Background
from finplan.safety.duty import Duty, NoClothLeft
from finplan.safety.fetched import fetched
from finplan.safety.gear import Gear, gear
from finplan.safety.hot_work import hot_too_early
from finplan.safety.report import Safety
from finplan.safety.row_care import RowCare, care_ticks, extra_ticks, row_care, with_helpers
from finplan.system import Treatment
from finplan.timetable import Timetable


@dataclass(frozen=True, slots=True)
class Precautions:
    """All that is said, ticked, worn, had and bought for safety, from one list of circumstances."""

    circumstances: tuple[Circumstance, ...]
    cautions: tuple[CautionLine, ...]
    """The worst danger first."""
    worst: tuple[CautionLine, ...]
    """Those for the first page."""
    rules_first: str
    """What comes before all of it, in one line."""
    rows: Mapping[str, RowCare]
    """What rows of the timetable ask for, by their ids."""
    ticks: tuple[Duty, ...]
    """All that falls due at the end of rows and of days, in order of time."""
    gear: Gear
    cartridges: tuple[CartridgeUse, ...]
    """Of everybody who wears a mask against vapour."""


def precautions(
    treatments: Sequence[Treatment],
    timetable: Timetable,
    safety: Safety,
    background: Background,
    market: Market,
    beside: Mapping[str, Range],
    helpers: Mapping[str, str],
) -> Precautions:
    """Return the precautions of a plan.

    Parameters
    ----------
    treatments, timetable, safety
        What is done, when, and what is reckoned of it
    background
        What else is known of the job
    market
        Where the records are, and what buying goes by
    beside
        How many pieces of things steps use up themselves, by name
    helpers
        Who helps, by the ids of rows
    """
    catalogue: Catalogue = market.catalogue
    rows = timetable.steps
    planned = timetable.has_plan
    fetches = fetched(rows, safety.sessions)
    present = circumstances(treatments, rows, safety.sessions, catalogue, background, planned=planned)
    present += in_vapour(rows, fetches)
    lines = cautions_of(present, catalogue)
    fit_from: dict[str, datetime] = {}
    for sanded in safety.too_early:  # of work that goes on after a break, the last
        fit_from[sanded.row.id] = sanded.fit_from
    lit_from = hot_too_early(rows, present, safety.sessions, catalogue)
    cares = row_care(rows, present, lines, safety.sessions, fit_from, lit_from, fetches, catalogue)
    cloths = {tick.due.date() for tick in safety.ticks if isinstance(tick.what, NoClothLeft)}
    self_heating = {waste.step for waste in safety.waste}
    evenings = care_ticks(rows, cares, catalogue, cloths, self_heating)
    worn_in = with_helpers(rows, helpers)
    asked = gear(worn_in, cares, market, beside)
    cartridges = cartridge_use(worn_in, asked.rows.get(CARTRIDGE, ()), catalogue)
    changes = [tick for use in cartridges for tick in use.ticks]
    ticks = (*safety.ticks, *changes, *evenings, *extra_ticks(rows, catalogue))
    return Precautions(
        circumstances=present,
        cautions=lines,
        worst=worst_cautions(lines, catalogue),
        rules_first=catalogue.cautions[RULES_FIRST].row or "",
        rows=cares,
        ticks=tuple(sorted(ticks, key=lambda tick: (tick.due, tick.row is None))),
        gear=asked,
        cartridges=cartridges,
    )
