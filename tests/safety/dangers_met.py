"""Looks for dangers that what is printed does not meet: what heats, burns, sets by a hardener, or is sanded off.

What a finish is stands here once more, by what it is made of, and not as the records of the catalogue say it: that
cloths with linseed and tung oil, oil varnish, alkyd and oil-based stain heat by themselves is in notices of fire
departments and NFPA's tip sheet on oily rags (2017), and for hardwax oil and gel stain recalled; that alcohol, white
spirit, lacquer thinner and butyl acetate, which the others hold, burn is in the NIOSH Pocket Guide and 29 CFR 1910.94.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from finplan.planning import Plan
from finplan.sheet.buying import buying
from finplan.sheet.cautions import caution_groups
from finplan.sheet.days import working_days
from finplan.telling import row_care_words
from finplan.timetable import TimetableStep

HEATS = {
    *("hardwax-oil", "hardwax-oil-2k", "tinted-oil", "tinted-oil-2k", "tung-oil", "boiled-linseed-oil"),
    *("oil-varnish-blend", "oil-varnish", "oil-polyurethane", "alkyd-enamel", "alkyd-primer"),
    *("oil-stain", "gel-stain", "glaze", "oil-grain-filler"),
}
BURNS = {
    *("hardwax-oil", "tinted-oil", "tung-oil", "oil-varnish-blend", "oil-varnish", "oil-polyurethane"),
    *("shellac", "shellac-primer", "alcohol-dye", "paste-wax", "alkyd-enamel", "alkyd-primer"),
    *("nitrocellulose-lacquer", "lacquer-toner", "lacquer-sanding-sealer", "pre-catalysed-lacquer"),
    *("catalysed-lacquer", "polyurethane-2k", "oil-stain", "gel-stain", "glaze", "oil-grain-filler"),
}
ISOCYANATE = {"hardwax-oil-2k", "tinted-oil-2k", "polyurethane-2k", "polyurethane-2k-waterborne"}
HARDENER = {*ISOCYANATE, "catalysed-lacquer", "pre-catalysed-lacquer"}
_PUT_ON = ("coat", "fill", "clean-up")
_ABRADED = ("abrade", "rub-out")
_SHUT = re.compile(r"close the lid|lid on\b|closed metal can|tight lid|closed at once|leftovers closed")


def dangers_unmet(plan: Plan) -> Iterator[str]:
    """Give every danger of a plan with a timetable that a row, an evening or a caution does not meet."""
    days = working_days(plan)
    evening = {day.day: " ".join(day.evening) for day in days}
    steps = {step.id: (treatment, step) for treatment in plan.treatments for step in treatment.steps}
    for row in plan.timetable.steps:
        found = steps.get(row.of_step or "")
        if row.kind != "attended" or found is None:
            continue
        treatment, step = found
        at_night = evening[row.start.date()]
        if row.deed in _PUT_ON and step.finish is not None:
            yield from (f"{row.id} ({step.finish}): {unmet}" for unmet in _put_on(plan, row, step.finish, at_night))
        if row.deed in _ABRADED:
            below = {one.finish for one in treatment.steps[: treatment.steps.index(step)] if one.finish is not None}
            yield from (f"{row.id}: {unmet}" for unmet in _abraded(plan, row, below, at_night))
    for day in days:
        if "none of it shut tightly" in evening[day.day]:
            yield from (f"{day.day} shuts in what gives off gas: {text}" for text in day.evening if _shuts(text))
    used = {step.finish for _, step in steps.values() if step.finish is not None}
    said = [text for day in days for text in day.evening]
    said += [row.text for group in caution_groups(plan) for row in group.rows]
    said += [
        text
        for day in days
        for session, row in day.rows_in_sessions
        for text in (*session.ticks, *session.cautions, row.wear, *row.cautions, *row.ticks)
    ]
    if used and used <= ISOCYANATE:
        yield from (f"shuts tightly what gives off gas: {text}" for text in dict.fromkeys(said) if _shuts(text))
    if not used & HEATS:
        said += [row.name for row in buying(plan).safety]
        yield from (f"speaks of oil, and none is there: {text}" for text in dict.fromkeys(said) if "oily" in text)
    if any("food safe" in text.lower() for text in said):
        yield "promises what nobody knows of food"


def _put_on(plan: Plan, row: TimetableStep, finish: str, at_night: str) -> Iterator[str]:
    care = plan.precautions.rows.get(row.id)
    codes, uses = (care.codes, care.uses) if care is not None else ((), ())
    volatile = plan.catalogue.finishes[finish].voc_g_l.high > 0
    if finish in HEATS and not ("none is left in the shop" in at_night and "stands outdoors" in at_night):
        yield "its cloths heat by themselves, and no can is taken out in the evening"
    if finish in BURNS:
        if "flammable-vapour" not in codes:
            yield "it burns, and nothing is said of flames"
        if "Air keeps moving" not in at_night:
            yield "it burns, and nobody sees to the air in the evening"
        if finish not in HEATS | ISOCYANATE and "out of the building" not in at_night:
            yield "its cloths burn, and no can is taken out in the evening"
    if finish in ISOCYANATE and not (
        "isocyanate-mask" in codes and care is not None and "breathing-protection" in care.needs
    ):
        yield "its hardener is isocyanate, and nothing is worn against it"
    if finish in ISOCYANATE and "none of it shut tightly" not in at_night:
        yield "nobody sees in the evening to what gives off gas"
    if finish in HARDENER and "nitrile-gloves" not in uses:
        yield "it sets by a hardener, and no gloves are worn"
    if volatile and row.deed != "clean-up" and (care is None or not care.sessions):
        yield "its air is not reckoned"
    if care is not None:
        words = row_care_words(care, plan)
        short = any(report.session.verdict == "too little to breathe" for report in care.sessions)
        if short and not any("mask" in text.lower() for text in words.air):
            yield "the air does not do, and no mask is named"
        for report in care.sessions:
            there = report.session
            if (
                there.room != row.room
                and there.verdict != "enough"
                and not any(there.room in text for text in words.air)
            ):
                yield f"it is carried to {there.room}, whose air does not do, and that is not said"


def _abraded(plan: Plan, row: TimetableStep, below: set[str], at_night: str) -> Iterator[str]:
    care = plan.precautions.rows.get(row.id)
    codes = care.codes if care is not None else ()
    if below & HEATS and not ("oily-dust" in codes and "dust of fresh finish" in at_night):
        yield "its dust heats by itself, and that is not said, or not seen to in the evening"
    if below & HARDENER and "reactive-dust" not in codes:
        yield "hardener is free in the film, and nothing is worn against its dust"


def _shuts(text: str) -> bool:
    """Return whether a text has something shut tightly that may hold hardener, and not only what holds none."""
    return _SHUT.search(text) is not None and "hardener" not in text
