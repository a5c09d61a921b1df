"""What is ticked at the end of a row or of a day, in words."""

from __future__ import annotations

import math

from finplan.planning import Plan
from finplan.quantity import Units
from finplan.safety import CartridgesSpent, CautionDue, ClothsLaidOut, Duty, ExtraDone, NoClothLeft
from finplan.showing import ML_PER_QT, show_duration, show_volume


def duty_words(duty: Duty, plan: Plan) -> str:
    """Return what is to be done when it falls due."""
    what, units = duty.what, plan.units
    match what:
        case ClothsLaidOut():
            can = "a metal can, its lid laid on loosely" if what.gives_gas else "the closed metal can"
            return (
                f"{_cloths(what.cloths)}, pads and gloves: flat outdoors in one layer, or under water in {can} "
                f"({_can(what.can_ml, units)} of cloths)."
            )
        case NoClothLeft():
            lid = "laid on loosely" if what.gives_gas else "on"
            return (
                f"{_cloths(what.cloths)} of today, pads and gloves: none is left in the shop. The can "
                f"({_can(what.can_ml, units)} of cloths, under water) stands outdoors with its lid {lid}."
            )
        case CartridgesSpent():
            used = show_duration(what.used_h)
            return f"{what.person}: change the vapour cartridges, {used} of use since they were new."
        case CautionDue():
            caution = plan.catalogue.cautions[what.code]
            if what.beside_isocyanate and caution.evening_where_isocyanate is not None:
                return caution.evening_where_isocyanate
            return (caution.evening if what.evening else caution.after) or ""
        case ExtraDone():
            return plan.catalogue.extra_steps[what.extra].tick or ""


def leaves_last_words(person: str, hours: str) -> str:
    """Return who sees to what is done before the shop is locked up, for who has gone by then.

    >>> leaves_last_words("Hanka", "17:30–17:55")
    'Cloths, lids, air and locking up: with Hanka, who leaves last (17:30–17:55).'
    """
    return f"Cloths, lids, air and locking up: with {person}, who leaves last ({hours})."


def _can(can_ml: float, units: Units) -> str:
    """Return how much a can holds at least; of quarts, which are no round figures, in the half above."""
    quarts = can_ml / ML_PER_QT
    return show_volume(can_ml, units) if units == "metric" or quarts < 1 else f"{math.ceil(2 * quarts - 0.2) / 2:g} qt"


def _cloths(count: int) -> str:
    return "One cloth" if count == 1 else f"Up to {count} cloths"
