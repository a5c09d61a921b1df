"""What is said of a step at the bench: what all items have in common, and what is one item's own."""

from __future__ import annotations

from datetime import timedelta

from finplan.listing import counted
from finplan.material import MeasuredOut
from finplan.moments import not_after, show_clock, show_moment
from finplan.planning import Plan
from finplan.quantity import Range
from finplan.showing import capital, show_duration
from finplan.spans import show_range, show_span, show_work
from finplan.system import CoatStep, Side, Treatment, TreatmentStep, faces_told, groups_of_side, item_work, portions_of
from finplan.telling.coat_air import air_limits, lag_words, of_finishes, settling_words
from finplan.telling.extra_words import extra_lines, extra_own_lines
from finplan.telling.mixing import Mixing
from finplan.telling.names import places
from finplan.telling.runs import Run
from finplan.telling.sanding_words import sequence_words
from finplan.telling.sides import heavy_lines, side_lines
from finplan.telling.wet_edge_words import wet_edge_lines
from finplan.timetable import TimetableStep, hours_between, room_of, settling_h

_BEFORE_A_COAT = "Stir; dust off and wipe the surface."
# What is done before any coat is common trade practice; no single publication.


def key_of(step: TreatmentStep, side: Side, plan: Plan, run: Run | None) -> str:
    """Return what is needed at a glance: the amount that is poured out, of what a *run* mixes at once, or the grit."""
    measured = plan.materials.measured_at(step.id, side)
    if measured is None:
        return step.recipe.grit or ""
    return Mixing(plan.catalogue, plan.units).poured(measured, mixed=mixed_together(run, plan))


def common_lines(step: TreatmentStep, run: Run | None, plan: Plan) -> tuple[str, ...]:
    """Return what is said of a step whatever the item.

    Parameters
    ----------
    step
        The step
    run
        The coats that are put on in one go with it; None where it puts none on
    plan
        The plan
    """
    lines: list[str] = []
    if step.do == "sand":
        lines.append("Tick each grit on the sanding card.")
    elif step.recipe.extra is not None:
        lines += extra_lines(step.recipe.extra, plan.catalogue)
    elif step.do == "raise-grain":
        job = plan.catalogue.work["raise-grain"]
        lines.append(f"{job.title}.")
        if job.wait_h is not None:
            lines.append(f"It dries in {show_range(job.wait_h, show_duration)}.")
    elif step.finish is not None:
        finish = plan.catalogue.finishes[step.finish]
        life = plan.materials.pot_lives_h.get(step.finish)
        if life is not None:
            lines.append(pot_life_words(life, run, plan))
        wiped_after_h = finish.wiped_after_h(plan.catalogue.methods[step.method or ""])
        if wiped_after_h is not None:
            span = show_span(show_duration(wiped_after_h.low), show_duration(wiped_after_h.high))
            lines.append(f"Wipe off after {show_duration(wiped_after_h.typical)} ({span}).")
    if step.recipe.note:
        lines.append(f"{step.recipe.note}.")
    return (*lines, *carried_lines(step, plan))


def carried_lines(step: TreatmentStep, plan: Plan) -> tuple[str, ...]:
    """Return into which room what was coated is brought to dry; nothing where it stays."""
    if step.finish is None:
        return ()
    dries_in = room_of(plan.shop, "drying")
    stays = room_of(plan.shop, plan.catalogue.methods[step.method or ""].use) == dries_in
    return () if stays else (f"What is coated goes into {dries_in} to dry.",)


def way_words(step: TreatmentStep, plan: Plan) -> str:
    """Return what is put on and how, in a line; empty where nothing is."""
    return "" if step.finish is None else f"{plan.catalogue.finishes[step.finish].title}. {method_words(step, plan)}."


def before_coat_lines(step: TreatmentStep, plan: Plan, *, named: bool = False) -> tuple[str, ...]:
    """Return what has to be so before a coat: its air, the dust, the finish and the surface. Nothing of other steps.

    Where coats of several finishes follow one another, how warm wood and tin have to be is *named* after its finish.
    """
    if step.finish is None:
        return ()
    method = plan.catalogue.methods[step.method or ""]
    settling = settling_words(settling_h(plan.shop, plan.catalogue, method.use))
    finish = plan.catalogue.finishes[step.finish]
    months = {row.start.month for row in plan.timetable.steps if row.of_step == step.id} or None
    lag = lag_words(finish, plan.shop.climate, months, plan.units)
    lag = of_finishes((finish.title,) if named and lag else (), lag)
    return (air_limits(finish, plan.units), *filter(None, (lag, settling)), _BEFORE_A_COAT)


def pot_life_words(life_h: Range, run: Run | None, plan: Plan) -> str:
    """Return how long a mix lasts, and what is mixed and until when where several coats are put on with it."""
    within = f"Use the mix within {show_duration(life_h.low)}"
    if mixed_anew(run, plan):
        return f"{within}: none of it lasts over the break, so use it up before, and mix anew after it."
    if run is None or len(run.coats) == 1:
        return f"{within}."
    if not mixed_together(run, plan):
        return f"{within}: mix anew for each coat."
    until = not_after(run.start + timedelta(hours=life_h.low))
    mixing, measured = Mixing(plan.catalogue, plan.units), _measured(run, plan)
    batch = mixing.together(measured)
    parts = f": {batch}, more at hand for up to {mixing.up_to_of(measured)} in all" if batch else ""
    mixed = f"mix one batch for {len(run.coats)} coats at {show_clock(run.start)}{parts}"
    same_day = until.date() == run.start.date()
    return f"{within}; {mixed}; it lasts until {show_clock(until) if same_day else show_moment(until)}."


def mixed_together(run: Run | None, plan: Plan) -> bool:
    """Return whether what several coats take is mixed at once: they are all on before it has set."""
    if run is None or len(run.coats) == 1:
        return False
    measured = _measured(run, plan)
    life_h = plan.materials.pot_lives_h.get(measured[0].coat.finish) if len(measured) == len(run.coats) else None
    if life_h is None or any(poured.mix.batches > 1 for poured in measured):
        return False
    return run.coats[-1].end <= run.start + timedelta(hours=life_h.low)


def mixed_anew(run: Run | None, plan: Plan) -> bool:
    """Return whether a coat that breaks interrupt takes longer with them than all that is mixed for it lasts."""
    if run is None or len(run.coats) != 1:
        return False
    measured = _measured(run, plan)
    life_h = plan.materials.pot_lives_h.get(measured[0].coat.finish) if measured else None
    stretches = [row for row in plan.timetable.steps if row.id == run.coats[0].id and row.kind == "attended"]
    if life_h is None or len(stretches) < 2:
        return False
    return hours_between(stretches[0].start, stretches[-1].end) > life_h.low * measured[0].mix.batches


def _measured(run: Run, plan: Plan) -> list[MeasuredOut]:
    sides = (plan.materials.measured_at(row.of_step or "", row.side) for row in run.coats)
    return [side for side in sides if side is not None]


def own_lines(
    treatment: Treatment, step: TreatmentStep, row: TimetableStep, plan: Plan, run: Run | None = None
) -> tuple[str, ...]:
    """Return what is said of a step for this item alone, or for one side of it; what a *run* mixes at once is not.

    *row* is the work on it: by whom, and when.
    """
    side = row.side
    lines = [] if len(step.groups) == len(treatment.groups) else [f"Only {places(step.groups)}."]
    measured = plan.materials.measured_at(step.id, side)
    if not isinstance(step, CoatStep):
        lines += heavy_lines(treatment, step, row, plan)
    if step.do == "sand":
        lines += grit_lines(treatment, step, plan)
    elif step.recipe.extra is not None:
        work, portions = item_work(treatment, step, plan.catalogue), portions_of(step, plan.catalogue)
        lines += extra_own_lines(work, plan.catalogue, plan.units, portions=portions)
    elif step.do in ("abrade", "rub-out"):
        abrading = plan.piece_of(treatment).sanding.abrading[step.id]
        lines.append(_by_hand(Range.total(sanded.hours for sanded in abrading)))
    elif isinstance(step, CoatStep) and measured is not None:
        mixing = Mixing(plan.catalogue, plan.units)
        of_side = side_lines(treatment, step, side, plan.catalogue)
        lines += [*of_side, *heavy_lines(treatment, step, row, plan)]
        lines += wet_edge_lines(step.id, side, plan, once=True)
        mixed, anew = mixed_together(run, plan), mixed_anew(run, plan)
        lines += [f"{capital(line)}." for line in mixing.lines(measured, mixed=mixed, anew=anew)]
        most = mixing.up_to(measured)
        lines.append(f"It may take up to {most}." if mixed and measured.mix.parts else f"Have up to {most} at hand.")
    return tuple(lines)


def again_line(treatment: Treatment, step: TreatmentStep, side: Side, plan: Plan) -> str:
    """Return why a coat needs another abrading before it, and where: on a side it goes on alone, none of the other."""
    where = "it all over"
    if side and isinstance(step, CoatStep):
        where = f"the {faces_told(groups_of_side(treatment, step, side, plan.catalogue))} alone, all over,"
    return f"The coat below has stood too long: dull {where} by hand, or the next one will not hold."


def own_lines_again(treatment: Treatment, step: TreatmentStep, row: TimetableStep, plan: Plan) -> tuple[str, ...]:
    """Return the same of the abrading that a coat needs first, since the one below it has become too hard."""
    sanded = plan.piece_of(treatment).sanding.abrading_again[step.id]
    return (*heavy_lines(treatment, step, row, plan), _by_hand(Range.total(grit_step.hours for grit_step in sanded)))


def _by_hand(hours: Range) -> str:
    return f"By hand, about {show_work(hours)}."


def grit_lines(treatment: Treatment, step: TreatmentStep, plan: Plan) -> list[str]:
    """Return the grades with which each part of an item is sanded, and of which of its faces they are others."""
    counts = {group.part: group.count for group in step.groups}
    lines = []
    for part, groups in plan.piece_of(treatment).sanding.sanded_of(step.groups).items():
        name, told = counted(part, counts[part]), sequence_words(groups)
        lines.append(told if name == treatment.item else f"{name}: {told}")
    return lines


def method_words(step: TreatmentStep, plan: Plan) -> str:
    """Return how a coat is put on, in words."""
    return plan.catalogue.methods[step.method or ""].title
