"""What dried in a room in which somebody else puts isocyanate on is not fetched from there without a word."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

from finplan.calendar import plan_calendar
from finplan.moments import show_moment
from finplan.planning import Plan, Wishes, read_source, with_stages
from finplan.sheet import sheet_html
from finplan.sheet.first_page import first_page
from finplan.telling import row_care_words
from finplan.timetable import TimetableStep
from tests.planned_once import made_at_once
from tests.plans import make_plan, plan_of
from tests.safety.pieces import NOW, ROOMY, plan_with, source_with

MORE = "after: [wrap]\n"


def _first(plan: Plan, item: str, deed: str) -> TimetableStep:
    return next(row for row in plan.timetable.steps if (row.item, row.deed, row.kind) == (item, deed, "attended"))


def _hurried(folder: Path, item: str, system: str = "polyurethane-2k", room: str = ROOMY) -> tuple[Plan, str]:
    """A plan in which the top is coated again just before the base, which dried beside it, is abraded elsewhere."""
    source = source_with(folder, system, timber="beech", more=MORE, room=room)
    plan = plan_with(folder, system, timber="beech", more=MORE, room=room)
    abraded = _first(plan, "base", "abrade")
    coats = [row for row in plan.timetable.steps if (row.item, row.deed, row.kind) == (item, "coat", "attended")]
    coat = next(row for row in coats if row.start >= abraded.end)
    soon = abraded.start - timedelta(minutes=5)
    moved = replace(coat, start=soon, end=soon + (coat.end - coat.start))
    rows = sorted((moved if row is coat else row for row in plan.timetable.steps), key=lambda row: row.start)
    changed = with_stages(
        plan_of([source], now=plan.now, wishes=Wishes()), timetable=replace(plan.timetable, steps=tuple(rows))
    )
    return changed, abraded.id


def test_what_stands_where_another_puts_isocyanate_on_is_handed_out(tmp_path: Path) -> None:
    plan, row_id = _hurried(tmp_path, "top")
    care = plan.precautions.rows[row_id]
    assert care.fetched is not None
    assert care.fetched.room == "finishing"
    words = row_care_words(care, plan).mind
    until = show_moment(care.fetched.until)
    assert words[0] == (
        f"It stands in finishing, where nobody but who puts isocyanate on comes in until {until}: have it handed out, "
        "or wear the same breathing protection."
    )
    assert words[0] in " ".join(sheet_html(plan).split())


def test_what_can_be_fetched_is_said_nothing_of(tmp_path: Path) -> None:
    """Where nobody is kept out of where it stands, or it is an oil that nobody is kept out for."""
    plan = plan_with(tmp_path, "hardwax-oil", more=MORE)
    assert all(care.fetched is None for care in plan.precautions.rows.values())
    lacquered = plan_with(tmp_path, "polyurethane-2k", timber="beech", more=MORE)
    for row in lacquered.timetable.steps:
        care = lacquered.precautions.rows.get(row.id)
        if care is not None and care.fetched is not None:
            assert row.start < care.fetched.until
            assert row.room != care.fetched.room


def test_what_stands_where_a_mask_is_worn_is_handed_out_as_well(tmp_path: Path) -> None:
    """While shellac is put on in too little air, and no longer: its vapour is soon gone."""
    plan, row_id = _hurried(tmp_path, "top", "shellac", "volume: 40 m3, air-changes: 2")
    care = plan.precautions.rows[row_id]
    assert care.fetched is not None
    assert care.fetched.mask == "half-mask"
    (words,) = [line for line in row_care_words(care, plan).mind if line.startswith("It stands in finishing")]
    assert "nobody enters without a half mask against vapour: have it handed out, or wear one." in words
    coats = [row for row in plan.timetable.steps if row.kind == "attended" and row.room == "finishing"]
    assert care.fetched.until in {row.end for row in coats}


def test_who_works_in_a_room_whose_air_is_over_the_limit_waits_or_wears_a_mask(tmp_path: Path) -> None:
    """Sanding waited for its air, and whoever glued up beside it two hours sooner read nothing of vapour."""
    small = "volume: 40 m3, air-changes: 2"
    plan = plan_with(tmp_path, "shellac", timber="beech", more=MORE, room=small)
    coat = _first(plan, "top", "coat")
    report = next(report for report in plan.safety.sessions if coat.id in report.steps)
    (fit,) = [again.at for again in report.fit_again if again.purpose == "sanding"]
    assert report.session.mask == "half-mask"
    assert fit is not None
    wrapped = next(row for row in plan.timetable.steps if row.extra == "wrap")
    source = source_with(tmp_path, "shellac", timber="beech", more=MORE, room=small)
    ends = max(row.end for row in plan.timetable.steps if row.id in report.steps)
    for start, said in ((coat.start, True), (ends, True), (fit - timedelta(minutes=5), True), (fit, False)):
        there = replace(wrapped, room=coat.room, start=start, end=start + (wrapped.end - wrapped.start))
        rows = sorted((there if row is wrapped else row for row in plan.timetable.steps), key=lambda row: row.start)
        changed = with_stages(
            plan_of([source], now=plan.now, wishes=Wishes()), timetable=replace(plan.timetable, steps=tuple(rows))
        )
        care = changed.precautions.rows.get(wrapped.id)
        mind = "" if care is None else " ".join(row_care_words(care, changed).mind)
        words = f"until {show_moment(fit)} the air here is not fit to work in without a half mask against vapour"
        assert (words in mind) is said, (start, mind)
        assert (care is not None and "half-mask" in care.needs) is said, "had and bought for whoever it is"
        coats = [changed.precautions.rows[name] for name in report.steps]
        assert not any("not fit to work in" in line for care in coats for line in row_care_words(care, changed).mind)


def test_who_works_where_isocyanate_was_put_on_waits_or_is_protected(tmp_path: Path) -> None:
    """Its solvent is soon thin enough to sand in, and nobody comes in yet: the lock-up said so, and the row nothing."""
    plan = plan_with(tmp_path, "polyurethane-2k", timber="beech", more=MORE)
    coat = _first(plan, "top", "coat")
    report = next(report for report in plan.safety.sessions if coat.id in report.steps)
    abraded = _first(plan, "top", "abrade")
    assert report.fit_to_enter is not None
    at = report.fit_to_enter - timedelta(minutes=5)
    there = replace(abraded, room=coat.room, start=at, end=at + (abraded.end - abraded.start))
    rows = sorted((there if row is abraded else row for row in plan.timetable.steps), key=lambda row: row.start)
    source = source_with(tmp_path, "polyurethane-2k", timber="beech", more=MORE)
    changed = with_stages(
        plan_of([source], now=plan.now, wishes=Wishes()), timetable=replace(plan.timetable, steps=tuple(rows))
    )
    said = " ".join(row_care_words(changed.precautions.rows[abraded.id], changed).mind)
    assert f"Isocyanate was put on here: until {show_moment(report.fit_to_enter)} nobody is here without" in said


def test_what_dries_in_another_room_is_said_to_be_brought_there(tmp_path: Path) -> None:
    """Its vapour was told of that room, and nobody was told to bring it there."""
    words = "What is coated goes into attic to dry."
    attic = "rooms:\n  attic: {for: [drying], volume: 60 m3, air-changes: 2}\n"
    for rooms, said in ((attic, True), ("rooms:\n", False)):
        _ = source_with(tmp_path, "shellac", timber="beech")
        shop = tmp_path / "shop.yaml"
        shop.write_text(shop.read_text(encoding="utf-8").replace("rooms:\n", rooms), encoding="utf-8")
        with made_at_once():
            plan = make_plan([read_source(tmp_path / "piece.yaml", shop)], now=NOW, wishes=Wishes(answers=False))
        coats = [row for row in plan.timetable.steps if row.deed == "coat" and row.kind == "attended"]
        assert coats
        assert (words in " ".join(sheet_html(plan).split())) is said
        told = plan_calendar(plan, plan.now).decode().replace("\r\n ", "").count(words)
        assert told == (len(coats) if said else 0)


def test_the_front_tells_once_of_the_room_in_which_it_dries(tmp_path: Path) -> None:
    """Of the same days it was told twice, by the air of the booth and by that of the room to which it is carried."""
    room = ROOMY + "}\nmethods: [wipe, spray-hvlp, hand, lathe]\nrack: {places: 20, hooks: 20"
    _ = source_with(tmp_path, "lacquer", timber="beech", top="alkyd-enamel", room=room)
    shop = tmp_path / "shop.yaml"
    attic = "rooms:\n  attic: {for: [drying], volume: 60 m3, air-changes: 1}\n"
    shop.write_text(shop.read_text(encoding="utf-8").replace("rooms:\n", attic), encoding="utf-8")
    with made_at_once():
        plan = make_plan([read_source(tmp_path / "piece.yaml", shop)], now=NOW, wishes=Wishes(answers=False))
    (line,) = [line for line in first_page(plan).air if line.startswith("finishing: ")]
    assert line.count("Then attic: who goes in there") == 1
    # The air of the booth does, that of the attic does not.
    sprayed = [care for care in plan.precautions.rows.values() if "solvent-breath" in care.codes and care.opens]
    asked = [words for care in sprayed for words in row_care_words(care, plan).asked if "no mask" in words]
    assert set(asked) == {"Everybody who wears no mask is out of attic, where it dries."}
    assert line.index("Booth ON") < line.index("Then attic")
