"""The dust of sanding in words: how much, what draws it off, and what of it the air may hold."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from finplan.catalogue import SandingRules
from finplan.listing import listed
from finplan.quantity import Units
from finplan.safety import DustReport
from finplan.sanding import SandingPlan, airborne_mg_m3, loose_l
from finplan.showing import plain, show_air, show_mass, show_volume
from finplan.spans import show_range

_EVERY_DAY = "Empty bags and extractor, and vacuum ledges, every day."


def dust_words(dust: DustReport, units: Units) -> Iterator[str]:
    """Give what is said of the dust of a plan, sentence by sentence."""
    mass = show_range(dust.dust_g, partial(show_mass, units=units))
    made = f"Sanding makes {mass} of dust. " if dust.dust_g.high > 0 else ""
    yield f"{made}{extractor_words(dust)}"
    limits = listed(f"{line.jurisdiction} {plain(line.limit_mg_m3)} mg/m³" for line in dust.limits)
    yield f"The air may hold, as a mean over a working day: {limits}."
    hangs_g = dust.limits[0].in_the_air_g
    if hangs_g is None or dust.volume_m3 is None or dust.room is None:
        yield f"How large the bench room is nobody said. {_EVERY_DAY}"
        return
    room, hangs = f"{dust.room} ({show_air(dust.volume_m3, units)})", f"{plain(hangs_g * 1000, 2)} mg"
    yield f"In {room} no more than {hangs} may hang in the air at once for the strictest of them. {_EVERY_DAY}"


def loose_dust_words(plan: SandingPlan, dust: DustReport, rules: SandingRules, units: Units) -> Iterator[str]:
    """Give what the dust of wood comes to, swept up and in still air, sentence by sentence."""
    if plan.dust_g.high <= 0:  # all that is abraded is a film, which is weighed nowhere
        return
    yield f"Loose it fills {show_volume(loose_l(plan.dust_g, rules).typical * 1000, units)}."
    yield (
        "What is built into a machine does well on flat faces and poorly on edges; by hand and at the lathe have a "
        "nozzle at the work and wear a mask."
    )
    if dust.volume_m3 is None:
        yield "Name the volume of the room in the shop file to see how little of it the air may hold."
        return
    hangs = airborne_mg_m3(plan.dust_g.typical, dust.volume_m3, rules.airborne_pct)
    yield (
        f"{plain(rules.airborne_pct)} % of this dust in still air there would be {plain(hangs, 2)} mg/m³, "
        f"{plain(hangs / dust.limits[0].limit_mg_m3, 2)} times the strictest limit."
    )


def extractor_words(dust: DustReport) -> str:
    """Return which extractor is asked for."""
    return f"The extractor is of class {dust.extractor[-1]}: it lets through {plain(dust.passes_pct)} % at most."
