"""Looks for contradictions between what is said, ticked, worn, had and bought for safety, and told first.

What is printed is read as text: a row that names a thing asks for it, whatever made it do so.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime

from icalendar import Calendar

from finplan.calendar import plan_calendar
from finplan.planning import Plan
from finplan.safety import RowCare
from finplan.sheet.buying import buying
from finplan.sheet.cautions import caution_groups
from finplan.sheet.days import working_days
from finplan.sheet.first_page import first_page
from finplan.sheet.step_row import StepRow
from finplan.telling import row_air_words, row_care_words
from finplan.timetable import TimetableStep
from tests.calendar.named import named
from tests.safety.dangers_met import dangers_unmet

_DUSTY = ("sand", "joints", "abrade", "rub-out", "abrade-again")
_WET = ("coat", "fill", "clean-up")


def contradictions(plan: Plan) -> list[str]:
    """Return every contradiction of a plan, in words."""
    if not plan.timetable.steps:  # what does not fit has no rows, no days and no calendar
        return [*_nothing_unused(plan), *_first_page(plan)]
    said = [*_things(plan), *_nothing_unused(plan), *_first_page(plan)]
    return [*said, *_air(plan), *_dust(plan), *_calendar(plan), *dangers_unmet(plan)]


def attended(plan: Plan) -> dict[str, TimetableStep]:
    return {row.id: row for row in plan.timetable.steps if row.kind == "attended"}


def printed(plan: Plan) -> Iterator[tuple[StepRow, str]]:
    """Give the rows of the days with what is said, ticked and worn in them."""
    for session, row in (one for day in working_days(plan) for one in day.rows_in_sessions):
        said = (*session.ticks, *session.cautions, row.wear, *row.cautions, *row.ticks)
        yield row, " ".join(said).lower()


def _things(plan: Plan) -> Iterator[str]:
    """Whatever a row names is on the lists of things, and its words are those of a caution that is printed."""
    catalogue, lists = plan.catalogue, buying(plan)
    called = {record.title: record.called for record in catalogue.equipment.values()}
    used = {
        record.title: (record.title.partition(" (")[0], record.called)
        for record in catalogue.consumables.values()
        if record.called is not None
    }
    have, bought = {row.name for row in lists.have}, {row.name for row in lists.safety}
    for row, text in printed(plan):
        named = [(title, words) for title, words in called.items() if words in _without(text, words, called)]
        for title, words in named:
            if title not in have:
                yield f"{row.label} names the {words}, which is not on the list of what to have"
        for title, words in used.values():
            if words in text and title not in bought:
                yield f"{row.label} names the {words}, which is not on the list of what to buy"
    told = {row.title for group in caution_groups(plan) for row in group.rows}
    for care in plan.precautions.rows.values():
        for code in care.codes:
            if catalogue.cautions[code].title not in told:
                yield f"{care.row} rests on {code}, which is not printed"


def _without(text: str, words: str, called: dict[str, str]) -> str:
    """Return a text without longer names that hold a shorter one: of a covered metal can no metal can is meant."""
    for longer in called.values():
        if words != longer and words in longer:
            text = text.replace(longer, "")
    return text


def _nothing_unused(plan: Plan) -> Iterator[str]:
    """Nothing is had or bought that no row asks for; each row that asks is one of the timetable."""
    rows, cares, gear = attended(plan), plan.precautions.rows, plan.precautions.gear
    for one in gear.have:
        if not one.rows or any(one.name not in cares[row].needs or row not in rows for row in one.rows):
            yield f"no row asks for the {one.title} that is to be had"
        if len(one.people) > one.count:
            yield f"{len(one.people)} people wear {one.count} {one.title}"
    for need in gear.buy:
        asking = gear.rows[need.name]
        if not asking or any(need.name not in cares[row].uses or row not in rows for row in asking):
            yield f"no row uses the {need.title} that is bought"
        wearers = {rows[row].person for row in asking}
        if plan.catalogue.consumables[need.name].worn and need.needed.low < len(wearers):
            yield f"{len(wearers)} people wear {need.needed.low} {need.title}"
    asked = {name for care in cares.values() for name in (*care.needs, *care.uses)}
    listed = {one.name for one in gear.have} | {need.name for need in gear.buy}
    if asked != listed:
        yield f"asked for and not listed, or the other way: {sorted(asked ^ listed)}"
    for name in sorted({need.name for need in plan.ordered.consumables} & {need.name for need in gear.buy}):
        yield f"{name} is bought with the materials and with what safety asks for"
    methods = {step.method for one in plan.treatments for step in one.steps}
    records = [plan.catalogue.extra_steps[row.extra] for row in plan.timetable.steps if row.extra is not None]
    beside = {name for record in records for name in (*record.uses, *record.uses_each)}
    for need in plan.ordered.consumables:
        if need.grit is not None or need.name in beside:
            continue
        if not methods & {*(plan.catalogue.consumables[need.name].methods or methods)}:
            yield f"nothing is put on with the {need.title} that is bought"


def _first_page(plan: Plan) -> Iterator[str]:
    """Every danger that may kill stands on the first page, and the line of what comes first below all of them."""
    page = first_page(plan)
    cautions = plan.catalogue.cautions
    told = {
        trigger
        for danger in page.dangers
        for caution in cautions.values()
        if caution.title == danger.title
        for trigger in caution.applies
    }
    for line in plan.cautions:
        applies = cautions[line.code].applies
        if (
            line.rank == 1
            and line.when != "always"
            and len(applies) == 1
            and not {*applies, *_WIDER.get(applies[0], ())} & told
        ):
            yield f"{line.code} may kill and is not on the first page"
    if not all(
        words in page.rules_first for words in ("Local codes", "label", "safety data sheet", "licensed practice")
    ):
        yield "the first page does not say what comes first"


_WIDER = {"fresh-oil-dust": ("self-heating",), "old-paint": ("old-paint-untested", "old-paint-found")}


def _air(plan: Plan) -> Iterator[str]:
    """A row wears cartridges where the air asks for a mask, and nowhere else but in spray; the air says so too."""
    short = {row for one in plan.precautions.circumstances if one.danger == "short-of-air" for row in one.rows}
    sprayed = {row for one in plan.precautions.circumstances if one.danger == "spraying" for row in one.rows}
    for care in plan.precautions.rows.values():
        cartridges = "organic-vapour-cartridge" in care.uses
        protected = cartridges or "breathing-protection" in care.needs
        if care.row in short and not protected:
            yield f"{care.row} is short of air and wears no mask"
        if cartridges and care.row not in short | sprayed:
            yield f"{care.row} wears cartridges, and nothing asks for them"
        told = row_air_words(care, plan.units)
        masked = any(words.startswith(("Vapour mask", "Air not known: vapour mask")) for words in told)
        if masked and not protected:
            yield f"{care.row} says that a mask is worn, and none is"


def _dust(plan: Plan) -> Iterator[str]:
    """Whoever makes dust wears something against it; what may hold lead is sanded wet, with P100 on, after a test."""
    rows, cares = attended(plan), plan.precautions.rows
    for row in rows.values():
        if row.deed in _DUSTY and not {"dust-mask", "particulate-filter"} & set(_uses(cares.get(row.id))):
            yield f"{row.id} makes dust and nothing is worn against it"
    lead = [one for one in plan.treatments if one.old_paint is not None]
    for treatment in lead:
        mine = [row for row in rows.values() if row.item == treatment.item and row.id.startswith(treatment.key)]
        dusty = [row for row in mine if row.deed in ("sand", "joints")]
        tests = [row for row in mine if row.deed == "test"]
        cleaned = [row for row in mine if row.deed == "wipe-down"]
        wet = [row for row in mine if row.deed in _WET]
        if bool(tests) is (treatment.lead_test == "lead") or not cleaned:
            yield f"{treatment.item} may hold lead and is not tested, or not cleaned up after"
            continue
        for row in dusty:
            if (tests and row.start < tests[0].end) or row.end > max(one.start for one in cleaned):
                yield f"{row.id} is sanded before the test, or after the clean-up"
            if "particulate-filter" not in _uses(cares.get(row.id)):
                yield f"{row.id} may hold lead and no P100 is worn"
            if not any("wet" in words for words in row_care_words(cares[row.id], plan).mind):
                yield f"{row.id} may hold lead and does not say that it is sanded wet"
        if wet and min(row.start for row in wet) < max(one.end for one in cleaned):
            yield f"{treatment.item} is coated before it is cleaned up"
        of_item = set(treatment.groups)
        for sanded in plan.piece_of(treatment).sanding.groups:
            by = {plan.catalogue.sanding_methods[step.method].by for step in sanded.steps}
            if sanded.group in of_item and by - {"hand"}:
                yield f"{sanded.group.name} may hold lead and is sanded by machine"


def _uses(care: RowCare | None) -> tuple[str, ...]:
    return () if care is None else care.uses


def _calendar(plan: Plan) -> Iterator[str]:
    """An event says of safety what its row says."""
    events = {
        (named(event), event.decoded("dtstart")): str(event.get("description", ""))
        for event in Calendar.from_ical(plan_calendar(plan, datetime(2027, 1, 1, tzinfo=UTC))).walk("VEVENT")
    }
    for row in plan.timetable.steps:
        care = plan.precautions.rows.get(row.id)
        if row.kind != "attended" or care is None:
            continue
        text = events[f"{row.item}: {row.step}", row.start.astimezone(plan.shop.time_zone)]
        said = row_care_words(care, plan)
        for words in (*said.before, *said.mind, *said.air):
            if words not in text:
                yield f"the event of {row.id} does not say: {words}"
