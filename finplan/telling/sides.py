"""How an item with two wide faces is laid for a coat, which face comes first, and what nobody turns or lifts alone."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from finplan.catalogue import Catalogue
from finplan.listing import listed, some
from finplan.moments import show_day
from finplan.planning import Plan, anybody_else_in, flat_mass_g, least_mass_g
from finplan.showing import capital, show_mass
from finplan.system import FIRST_SIDE, WIDE_FACES, CoatStep, FaceGroup, Side, Treatment, TreatmentStep, two_sides
from finplan.telling.step_number import step_numbers
from finplan.timetable import TimetableStep, steps_by_row

_AGREE = "agree with them who lifts, or ask somebody in"
"""Who comes to fetch a piece may lend a hand, and need not."""


def side_lines(treatment: Treatment, step: CoatStep, side: Side, catalogue: Catalogue) -> tuple[str, ...]:
    """Return how an item with two wide faces is laid for a coat; nothing where it has none."""
    if not treatment.loose:
        return ()
    sides = two_sides(treatment, step, catalogue)
    if sides is None:
        faces = {face for group in step.groups for face in group.faces}
        below = next((pair[1] for pair in WIDE_FACES if step.do == "coat" and set(pair) <= faces), None)
        # Common trade practice: what is looked at least lies on points, whose marks nobody sees.
        return () if below is None else (f"{capital(below)} first, then lay it on points and do the rest.",)
    first, second = (listed(_faces(groups)) for groups in sides)
    if side == FIRST_SIDE:
        return (f"First the {first} alone.",)
    return (f"Turned over: the {second}. It lies on the {first}: soft, clean rests.",)


def heavy_lines(treatment: Treatment, step: TreatmentStep, row: TimetableStep, plan: Plan) -> tuple[str, ...]:
    """Return what an item weighs of which a step does both sides, where that is more than one person lifts.

    *row* is the work on it: by whom, and when.
    """
    mass_g = _turned_g(treatment, step, plan)
    if mass_g is None:
        return ()
    weighs = f"It weighs about {show_mass(mass_g, plan.units)}"
    if _nobody_may_help(treatment, step, plan):
        return (f"{weighs}: turned by a hoist or on a stand that turns.",)
    return (f"{weighs}: not turned alone; whoever helps wears the same.", *_ask_in(row, plan))


def lifting_lines(row: TimetableStep, plan: Plan) -> tuple[str, ...]:
    """Return what of a piece nobody lifts or carries alone, where it is put together, packed or handed over."""
    piece = plan.piece_of(row)
    lifts = row.extra is not None and row.of_step is None and plan.catalogue.extra_steps[row.extra].lifts
    if row.deed != "put-together" and not lifts:
        return ()
    masses_g = {treatment.named: flat_mass_g(treatment, piece) for treatment in piece.treatments}
    told = [
        f"{named} (about {show_mass(mass_g, plan.units)})"
        for named, mass_g in masses_g.items()
        if mass_g is not None and _too_heavy(mass_g, plan)
    ]
    lines = [f"Not lifted alone: {listed(told)}."] if told else []
    whole_g = least_mass_g(piece)
    if _too_heavy(whole_g, plan) and _is_one_body(row, plan):
        lines.append(f"All of it weighs {show_mass(whole_g, plan.units)} or more: not carried alone.")
    return (*lines, *_ask_in(row, plan)) if lines else ()


def asked_in_words(plan: Plan) -> tuple[str, ...]:
    """Return on which days somebody is asked in, for what nobody turns or lifts alone; else nothing.

    In a sentence, and in another for what the customer is there for.
    """
    steps = steps_by_row(plan.timetable.steps, plan.treatments)
    alone = [
        row
        for row in plan.timetable.steps
        if row.kind == "attended"
        and (lifting_lines(row, plan) or (row.deed != "clean-up" and row.id in steps and _helped(*steps[row.id], plan)))
        and not anybody_else_in(row, plan.shop)
    ]
    by_whom: dict[str | None, list[TimetableStep]] = {}
    for row in alone:
        by_whom.setdefault(_present(row, plan), []).append(row)
    return tuple(_asked_in(rows, present) for present, rows in by_whom.items())


def _asked_in(rows: Sequence[TimetableStep], present: str | None) -> str:
    days = some([show_day(day) for day in dict.fromkeys(row.start.date() for row in rows)])
    at = f"step{'s' if len({row.number for row in rows}) > 1 else ''} {step_numbers(rows)}"
    if present is not None:
        return f"Too heavy for one at {at}, when nobody else is there but {present}: {_AGREE} for {days}."
    return f"Too heavy for one at {at}, when nobody else is in the shop: ask somebody in for {days}."


def _helped(treatment: Treatment, step: TreatmentStep, plan: Plan) -> bool:
    """Return whether somebody helps to turn an item at a step."""
    return _turned_g(treatment, step, plan) is not None and not _nobody_may_help(treatment, step, plan)


def _turned_g(treatment: Treatment, step: TreatmentStep, plan: Plan) -> float | None:
    """Return what an item weighs that a step turns and one person does not; None of all else. [g]"""
    mass_g = flat_mass_g(treatment, plan.piece_of(treatment))
    faces = {face for group in step.groups for face in group.faces}
    turned = any(set(pair) <= faces for pair in WIDE_FACES)
    return mass_g if mass_g is not None and turned and _too_heavy(mass_g, plan) else None


def _nobody_may_help(treatment: Treatment, step: TreatmentStep, plan: Plan) -> bool:
    """Return whether everybody else is out of the room."""
    if isinstance(step, CoatStep):
        return plan.catalogue.finishes[step.finish].hazards.isocyanate
    return treatment.old_paint is not None


def _ask_in(row: TimetableStep, plan: Plan) -> tuple[str, ...]:
    if anybody_else_in(row, plan.shop):
        return ()
    present = _present(row, plan)
    if present is not None:
        return (f"Nobody else is there but {present}: {_AGREE}.",)
    return ("Ask somebody in: nobody else is there.",)


def _present(row: TimetableStep, plan: Plan) -> str | None:
    """Return who of no shop has to be there at a step; None for nobody."""
    return None if row.extra is None or row.of_step is not None else plan.catalogue.extra_steps[row.extra].present


def _is_one_body(row: TimetableStep, plan: Plan) -> bool:
    """Return whether a piece is put together in the shop: loose parts, as of stairs, are carried one by one."""
    steps = plan.catalogue.extra_steps
    joining = [name for name, record in steps.items() if record.lifts and not record.comes_last]
    return any(
        other.key == row.key and (other.deed == "put-together" or other.extra in joining)
        for other in plan.timetable.steps
    )


def _too_heavy(mass_g: float, plan: Plan) -> bool:
    return mass_g > plan.catalogue.lifting["common"].one_person_g


def _faces(groups: Iterable[FaceGroup]) -> list[str]:
    return list(dict.fromkeys(face for group in groups for face in group.faces))
