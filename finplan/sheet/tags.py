"""Part tags: a label for every coat of everything that is picked up, in the order in which they go on."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from unicodedata import east_asian_width

from finplan.inputs.labels import Labels, Place
from finplan.plan import Plan
from finplan.sheet.planned import step_id, steps_by_id, treatment_name
from finplan.sheet.sides import side_of
from finplan.sheet.words import capital, not_before, shortened, show_moment
from finplan.system import Treatment, TreatmentStep
from finplan.timetable import TimetableStep
from finplan.timetable.sides import FIRST_SIDE, SECOND_SIDE

_MM_PER_PT = 25.4 / 72
_WIDE, _NARROW = 1.0, 0.58
"""Of an em: what a letter of a wide alphabet takes, and one of the others at the most on average."""
_LEADING = 1.18
_PADDING_MM = 2.5
_RULE_MM = 1.5
"""The rule across a tag, with the room around it."""
_LEAST_LETTERS = 30
"""Of the name of a piece, on the smallest of labels."""
_FULL_PT, _LEAST_PT = 30.0, 5.5
"""The largest size of the time on a tag, and the smallest of anything."""


@dataclass(frozen=True, slots=True)
class Tag:
    """What one label says."""

    piece: str
    part: str
    coat: str
    put_on: str
    caution: str
    """What is not done before the moment."""
    moment: str
    then: str
    """What comes next, or when it may leave the workshop."""


@dataclass(frozen=True, slots=True)
class TagSizes:
    """How large the words of a tag are set, so that all of them fit. [pt]"""

    part_pt: float
    moment_pt: float
    small_pt: float


@dataclass(frozen=True, slots=True)
class PlacedTag:
    """A tag on its sheet."""

    tag: Tag
    place: Place
    sizes: TagSizes


def tags(plan: Plan) -> tuple[Tag, ...]:
    """Return a tag for every coat of every item, loose parts one by one, in the order in which they are put on.

    A tag says what is wet, since when, until when it is not touched, and what comes then: it hangs on the part until
    the next one takes its place.
    """
    steps = steps_by_id(plan)
    begun: dict[str, TimetableStep] = {}
    for row in plan.timetable.steps:
        if row.kind == "attended":
            begun.setdefault(row.id, row)
    return tuple(
        tag
        for row in sorted(begun.values(), key=lambda row: row.start.timestamp())
        if row.deed in ("coat", "fill")
        for tag in _of(row, *steps[step_id(row, steps)], begun, plan)
    )


def pages(found: tuple[Tag, ...], labels: Labels, paper: str, first: int) -> tuple[tuple[PlacedTag, ...], ...]:
    """Return tags on sheets of labels, the first of them on the label of that number; the sheet may be begun."""
    places = labels.places(paper)
    sheets: list[list[PlacedTag]] = []
    for number, tag in enumerate(found, start=first - 1):
        if number % len(places) == 0 or not sheets:
            sheets.append([])
        place = places[number % len(places)]
        sheets[-1].append(_placed(tag, place))
    return tuple(tuple(sheet) for sheet in sheets)


def _of(
    row: TimetableStep, treatment: Treatment, step: TreatmentStep, begun: dict[str, TimetableStep], plan: Plan
) -> Iterator[Tag]:
    side = side_of(row.id, step.id)
    caution, moment = _leave_alone(row, side, begun)
    name = treatment_name(treatment, plan)
    for number in range(1, treatment.pieces + 1):
        yield Tag(
            piece=plan.piece_of(row).name,
            part=name if treatment.pieces == 1 else f"{name} {number} of {treatment.pieces}",
            coat=_coat(row, treatment, step, plan),
            put_on=show_moment(row.start),
            caution=caution,
            moment=moment,
            then=_then(row, treatment, step, plan),
        )


def _coat(row: TimetableStep, treatment: Treatment, step: TreatmentStep, plan: Plan) -> str:
    finish = plan.catalogue.finishes[step.finish or ""].title
    coats = [one for one in treatment.steps if one.coat is not None]
    of_how_many = f" of {len(coats)}" if step.coat is not None and len(coats) > 1 else ""
    side = {FIRST_SIDE: ", first side", SECOND_SIDE: ", other side"}.get(side_of(row.id, step.id), "")
    return f"{capital(step.label)}{of_how_many}{side}: {finish}"


def _leave_alone(row: TimetableStep, side: str, begun: dict[str, TimetableStep]) -> tuple[str, str]:
    """Return what is not done to a wet thing, and before when; of a first side it is turning it over."""
    other = begun.get(f"{row.id.removesuffix(FIRST_SIDE)}{SECOND_SIDE}") if side == FIRST_SIDE else None
    if other is not None:
        return ("Do not turn over before", show_moment(other.start))
    if row.next_from is None:
        return ("Do not touch before", "it is dry: see the label")
    return ("Do not touch before", show_moment(not_before(row.next_from)))


def _then(row: TimetableStep, treatment: Treatment, step: TreatmentStep, plan: Plan) -> str:
    """Return what comes next to the item, or that it may be handed over."""
    ids = [one.id for one in treatment.steps[treatment.steps.index(step) :]]
    later = [
        one
        for one in plan.timetable.steps
        if one.kind == "attended"
        and one.start >= row.end
        and one.deed != "clean-up"
        and any(f"{one.id}/".startswith(f"{known}/") for known in ids)
    ]
    if later:
        following = min(later, key=lambda one: one.start.timestamp())
        return f"Then {following.step}, {show_moment(following.start)}."
    ready = next(one.ready for one in plan.timetable.pieces if one.piece == row.piece)
    return f"Hand over after {show_moment(not_before(ready))}."


# --- the size of the words --------------------------------------------------------------------------------------------


def _placed(tag: Tag, place: Place) -> PlacedTag:
    """Return a tag in the largest words that fit its label; where not even small ones do, its piece's name is cut."""
    letters = len(tag.piece)
    fitting = tag
    while letters > _LEAST_LETTERS and not _fits(fitting, _sizes_at(_LEAST_PT), place):
        letters -= 10
        fitting = replace(tag, piece=shortened(tag.piece, letters))
    return PlacedTag(fitting, place, _sizes(fitting, place))


def _sizes(tag: Tag, place: Place) -> TagSizes:
    size_pt = _FULL_PT
    while size_pt > _LEAST_PT and not _fits(tag, _sizes_at(size_pt), place):
        size_pt -= 0.5
    return _sizes_at(size_pt)


def _fits(tag: Tag, sizes: TagSizes, place: Place) -> bool:
    """Return whether a tag fits its label, its moment on one line."""
    width_mm = place.width_mm - 2 * _PADDING_MM
    one_line = _lines(tag.moment, sizes.moment_pt, width_mm) == 1
    return one_line and _height_mm(tag, sizes, width_mm) <= place.height_mm - 2 * _PADDING_MM


def _sizes_at(moment_pt: float) -> TagSizes:
    return TagSizes(max(_LEAST_PT, 0.9 * moment_pt), moment_pt, max(_LEAST_PT, 0.5 * moment_pt))


def _height_mm(tag: Tag, sizes: TagSizes, width_mm: float) -> float:
    small = (tag.piece, tag.coat, f"Put on {tag.put_on} really ________", tag.caution, tag.then)
    lines = [(text, sizes.small_pt) for text in small]
    lines += [(tag.part, sizes.part_pt), (tag.moment, sizes.moment_pt)]
    words_mm = sum(_lines(text, size_pt, width_mm) * size_pt * _LEADING * _MM_PER_PT for text, size_pt in lines)
    return words_mm + _RULE_MM


def _lines(text: str, size_pt: float, width_mm: float) -> int:
    ems = sum(_WIDE if east_asian_width(letter) in "WF" else _NARROW for letter in text)
    return max(1, math.ceil(ems * size_pt * _MM_PER_PT / width_mm))
