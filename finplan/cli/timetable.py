"""The timetable for a person: a table by day."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from finplan.cli.table import table
from finplan.moments import not_before, show_clock, show_moment, show_year_day
from finplan.planning import Plan
from finplan.showing import capital, show_duration
from finplan.telling import (
    READY,
    Names,
    after_coats,
    air_to_sand_in,
    approvals_told,
    asked_in_words,
    chance_words,
    cold_by_words,
    cured_words,
    gain_words,
    in_one_go,
    kept_words,
    late_by_words,
    latest_start_words,
    misfit_words,
    moved_words,
    next_by_words,
    notes_told,
    put_off_lines,
    ready_at,
    ready_words,
    remedy_words,
    requirement_words,
    share_words,
    step_numbers,
    too_little_air,
    wanted_words,
    wet_edge_words,
)
from finplan.timetable import Timetable, TimetableStep, WouldFit

_CRITICAL = "!"


def timetable_lines(plan: Plan) -> list[str]:
    """Return the days with their steps, or what clashes."""
    timetable = plan.timetable
    if not timetable.has_plan:
        return _clashes(timetable)
    names = Names(plan)
    moved = _moved(plan)
    lines = [*moved, *([""] if moved else []), *_head(plan), *(["", *_steps(plan, names)] if timetable.steps else [])]
    told = _cold(plan, names)
    told += _too_little_air(plan)
    told += _air_to_sand_in(plan, names)
    told += dict.fromkeys(capital(wet_edge_words(edge, plan.units)) for edge in plan.wet_edges if edge.alone > 1)
    told += (*asked_in_words(plan), *put_off_lines(plan), *notes_told(timetable))
    told += _cured(plan)
    return [*lines, "", *told] if told else lines


def _cured(plan: Plan) -> list[str]:
    """Return when the finish of every item has cured, each under the name that it has among the steps."""
    names = {of.in_plan: _of_piece(of.item, plan.piece_of(of).called) for of in plan.treatments}
    return [f"{names.get(item, item)}: {cured_words(when)}." for item, when in plan.timetable.cured]


def _moved(plan: Plan) -> list[str]:
    moved = moved_words(plan)
    return [] if moved is None else [f"{moved.title}.", *(f"  {line}" for line in moved.lines), *moved.ready]


def _cold(plan: Plan, names: Names) -> list[str]:
    """Return what the cold does to coats, each with the items that it is about."""
    items = {
        words: dict.fromkeys(_item((row,), plan, names) for row in rows) for words, rows in cold_by_words(plan).items()
    }
    return [f"{', '.join(alike)}: {words}" for words, alike in items.items()]


def _too_little_air(plan: Plan) -> list[str]:
    """Return what is not begun since its air may burn, by the numbers of the steps."""
    about: dict[str, list[TimetableStep]] = {}
    for row in _cared_for(plan):
        for words in too_little_air(plan.precautions.rows[row.id]):
            about.setdefault(words, []).append(row)
    return [
        f"{'Steps' if len(rows) > 1 else 'Step'} {step_numbers(rows)}: {words} What would do: finplan safety."
        for words, rows in about.items()
    ]


def _air_to_sand_in(plan: Plan, names: Names) -> list[str]:
    """Return what sands before the air is fit for it, each with until when it waits."""
    return [
        f"{names.of_row(row)}, {row.step}: {words}"
        for row in _cared_for(plan)
        for words in air_to_sand_in(plan.precautions.rows[row.id])
    ]


def _cared_for(plan: Plan) -> Iterable[TimetableStep]:
    """Return the rows of work that ask for care, each once."""
    rows = {row.id: row for row in plan.timetable.steps if row.kind == "attended"}
    return [row for row in rows.values() if row.id in plan.precautions.rows]


def _steps(plan: Plan, names: Names) -> list[str]:
    after = after_coats(plan)
    day = None
    rows: list[list[str]] = []
    for go in in_one_go(plan.timetable.steps):
        row, last = go[0], go[-1]
        if row.start.date() != day:
            day = row.start.date()
            rows.append([show_year_day(day), "", "", "", "", "", ""])
        coats = [after[step.id] for step in go if step.id in after]
        last_coat = after.get(last.id)  # of several left alone longest
        alone = "" if last_coat is None or last_coat.untouched_until is None else show_moment(last_coat.untouched_until)
        until = next_by_words(coats) if coats else ""
        rows.append([_clock(go), step_numbers(go), _item(go, plan, names), row.step, row.person or "", alone, until])
    lines = table(["when", "no.", "item", "step", "who", "leave alone until", "next coat by"], rows)
    if any(row.critical for row in plan.timetable.steps):
        lines += ["", f"{_CRITICAL} What takes longer there makes all of it ready later."]
    return lines


def _item(go: Sequence[TimetableStep], plan: Plan, names: Names) -> str:
    """Return an item, of several pieces with the key of its own, by which its steps are named as done."""
    return _of_piece(names.of_go(go), plan.piece_of(go[0]).called)


def _of_piece(name: str, called: str) -> str:
    return f"{called}: {name}" if called else name


def _clock(go: Sequence[TimetableStep]) -> str:
    mark = _CRITICAL if any(step.critical for step in go) else " "
    return f"{mark} {show_clock(go[0].start)}-{show_clock(go[-1].end)}"


def _head(plan: Plan) -> list[str]:
    timetable = plan.timetable
    lines: list[str] = []
    several, ready = len(timetable.pieces) > 1, READY[plan.ready_for].lower()
    for times in timetable.pieces:
        open_still = any(row.piece == times.piece for row in timetable.steps)
        told = f"start {show_moment(times.start)}" if open_still else "nothing is left to do"
        told = f"{times.piece}: {told}" if several else capital(told)
        lines.append(f"{told}, {ready} {show_moment(ready_at(times))}.")
        late, kept = late_by_words(times), kept_words(times, timetable)
        if times.deliver is not None and kept:
            buffer = f"a buffer of {kept.rstrip(',')}"
            lines.append(f"Delivery {show_moment(times.deliver)}: {late or buffer}.")
    if timetable.short_of_buffer and not any(map(late_by_words, timetable.pieces)):
        lines.append(f"That is less than the {wanted_words(timetable)} wanted.")
    lines += chance_words(timetable)
    latest = latest_start_words(timetable)
    if latest:
        lines.append(latest)
    lines += [approval.words for approval in approvals_told(plan)]
    if timetable.earliest_ready:
        lines.append(f"The earliest that it could be ready: {show_moment(not_before(timetable.earliest_ready))}.")
    if timetable.gap_h:
        lines.append(
            "The best plan is not proven: another could be better by up to "
            f"{show_duration(timetable.gap_h)} of the shop's hours."
        )
    if timetable.cut_short:
        lines.append("The time given ended the search: run again, it may come out otherwise.")
    if timetable.would_be_in_time:
        lines += ["", *_would_fit(timetable.would_be_in_time, timetable.working_day_h, "it would be in time with")]
    if timetable.would_be_sure:
        lines += ["", *_would_fit(timetable.would_be_sure, timetable.working_day_h, "it would be sure enough with")]
    return lines


def _clashes(timetable: Timetable) -> list[str]:
    lines = [misfit_words(timetable)]
    for clash in timetable.clashes:
        short = f", short by {show_duration(clash.short_by_h)}" if clash.short_by_h else ""
        lines += ["", f"{requirement_words(clash.requirement)}{short}"]
    # What helps, helps with all that clashes.
    for fits in dict.fromkeys(clash.would_fit for clash in timetable.clashes if clash.would_fit):
        lines += ["", *_would_fit(fits, timetable.working_day_h, "it would fit with")]
    return lines


def _would_fit(fits: Sequence[WouldFit], working_day_h: float, head: str) -> list[str]:
    """Return what would help, the nearest to what was asked for first."""
    rows = [
        [
            remedy_words(fit.change),
            ready_words(fit),
            gain_words(fit, working_day_h),
            "" if fit.in_time is None else share_words(fit.in_time),
        ]
        for fit in fits
    ]
    columns = zip(*[(head, "ready", "which is", "in time in"), *rows], strict=True)
    told, *below = zip(*(column for column in columns if any(column[1:])), strict=True)
    return table(told, below)
