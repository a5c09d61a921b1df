"""A piece as the page shows it: fields, drawings with fields in place, figures with what they were before."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, replace

from finplan.catalogue import bundled_catalogue
from finplan.page.days import DaysView, days_view
from finplan.page.edits import AddItem
from finplan.page.field import Field, NotTakenFields
from finplan.page.fields import Fields, PartFields, part_label
from finplan.page.in_place import InPlace, with_fields
from finplan.page.joined import JoinedFields, joined_fields
from finplan.page.planner import DaysSoFar
from finplan.page.reckoned import Figure, Reckoned
from finplan.page.whole import WholeFields, whole_fields
from finplan.page.workbench import View, Workbench
from finplan.place import SHOP
from finplan.planning import with_stages
from finplan.problems import Problem, Where
from finplan.timetable import Timetable

GROUPS = (("surface", "Surface"), ("buy", "Buy"), ("sand", "Sand"), ("danger", "Dangers"))
_MOST_SAID = 4


@dataclass(frozen=True, slots=True)
class Changed:
    """A figure, and what it was before the last edit."""

    name: str
    value: str
    before: str | None
    """None where it is as it was; empty where it is new."""
    gone: bool = False


@dataclass(frozen=True, slots=True)
class PieceShown:
    """All of a piece's page but its days."""

    name: str
    title: str
    digest: str
    state: str
    head: Mapping[str, Field]
    """The fields of the sentence, by their names in the file."""
    whole: WholeFields
    parts: tuple[PartFields, ...]
    joined: JoinedFields
    figures: tuple[tuple[str, tuple[Changed, ...]], ...]
    problems: tuple[Problem, ...]
    """That stand at no field of the page."""
    malformed: bool
    """Whether the text is not YAML, so that there are no fields."""
    can_undo: bool
    can_redo: bool
    shop: str = ""
    """The digest of the shop file; empty where there is none."""
    accepted: tuple[tuple[str, str], ...] = ()
    """Warnings that the file accepts, each with its path in it."""

    def accept(self, problem: Problem) -> dict[str, str]:
        """Return what the button sends by which a warning is meant so: into the file that it is of."""
        edit = json.dumps([AddItem(path=("accept",), value=problem.name).model_dump()])
        of_shop = problem.file.name == SHOP
        return {"piece": "[]" if of_shop else edit, "shop": edit if of_shop else "[]", "shop_on": self.shop}

    @property
    def in_a_line(self) -> str:
        """The first of what comes of it, and what has to be bought first, where there is little room."""
        firsts = {title: rows[0] for title, rows in self.figures if rows}
        return " · ".join(firsts[title].value for title in ("Surface", "Buy") if title in firsts)


def piece_shown(session: Workbench, view: View, typed: NotTakenFields | None = None) -> PieceShown:
    """Return a piece as it is shown; *typed* are values that were not taken, with what is wrong with them."""
    reckoned = view.reckoned
    workshop, _ = session.workshop()
    catalogue = workshop.catalogue if workshop else bundled_catalogue()
    fields = Fields(reckoned, catalogue, typed)
    whole = whole_fields(reckoned, fields, catalogue)
    head = {
        name: fields.of((name,), label)
        for name, label in (
            ("piece", "name"),
            ("customer", "customer"),
            ("timber", "timber"),
            ("system", "finish"),
            ("deliver", "delivery date"),
        )
    }
    listed = reckoned.data.get("parts")
    parts = tuple(_part(str(name), reckoned, fields) for name in listed) if isinstance(listed, dict) else ()
    joined = joined_fields(reckoned, fields)
    shown = {problem.where for field in head.values() for problem in field.problems}
    shown |= {problem.where for part in parts for problem in part.problems}
    shown |= {problem.where for part in parts for field in _all(part) for problem in field.problems}
    shown |= {problem.where for problem in (*joined.problems, *whole.problems)}
    shown |= {problem.where for part in parts for asked_steps in part.asked for problem in asked_steps.all_problems}
    accepted = reckoned.data.get("accept")
    return PieceShown(
        name=view.text.name,
        title=str(reckoned.data.get("piece") or view.text.name),
        digest=view.text.digest,
        state=view.state,
        head=head,
        whole=whole,
        parts=parts,
        joined=joined,
        figures=changed(reckoned, view.before),
        problems=tuple(problem for problem in reckoned.problems if problem.where not in shown),
        malformed=not reckoned.data,
        can_undo=view.can_undo,
        can_redo=view.can_redo,
        shop=view.shop or "",
        accepted=tuple(
            (str(warning), json.dumps(("accept", at)))
            for at, warning in enumerate(accepted if isinstance(accepted, list) else ())
        ),
    )


def _part(name: str, reckoned: Reckoned, fields: Fields) -> PartFields:
    drawing = reckoned.drawings.get(name)
    if drawing is None:
        return fields.part(name, ())

    def field_of(path: Where) -> Field:
        if path[-1] == "exposure":
            return fields.face(name, str(path[-2]))
        return fields.of(path, part_label(path))

    pieces = with_fields(drawing, reckoned.data, name, field_of)
    drawn = {
        field.path for piece in pieces if isinstance(piece, InPlace) for _, field in piece.pieces if field is not None
    }
    return replace(fields.part(name, drawn), drawing=pieces)


def _all(part: PartFields) -> list[Field]:
    drawn = [
        field for piece in part.drawing if isinstance(piece, InPlace) for _, field in piece.pieces if field is not None
    ]
    of_lists = [field for each in part.lists for item in each.items for field in item.fields]
    return [part.count, *part.faces, *part.others, *of_lists, *drawn]


def changed(reckoned: Reckoned, before: Reckoned | None) -> tuple[tuple[str, tuple[Changed, ...]], ...]:
    """Return the figures by their groups, each with what it was before."""
    was = {} if before is None else {figure.key: figure.value for figure in before.figures}
    there = {figure.key for figure in reckoned.figures}
    rows = []
    for group, title in GROUPS:
        own = [_changed(figure, was) for figure in reckoned.figures if figure.group == group]
        gone = [
            Changed(name, "", value, gone=True)
            for (of, name), value in was.items()
            if of == group and (of, name) not in there and reckoned.sound
        ]
        if own or gone:
            rows.append((title, (*own, *gone)))
    return tuple(rows)


def _changed(figure: Figure, was: Mapping[tuple[str, str], str]) -> Changed:
    before = was.get(figure.key)
    return Changed(figure.name, figure.value, None if not was or before == figure.value else before or "")


def changes_said(shown: PieceShown) -> str:
    """Return in one sentence what an edit changed, for who hears the page."""
    told = [
        f"{title}, {row.name}: {row.before} is now {row.value}" if row.before else f"{title}, {row.name}: {row.value}"
        for title, rows in shown.figures
        for row in rows
        if row.before is not None and not row.gone
    ]
    more = f"; and {len(told) - _MOST_SAID} more changes" if len(told) > _MOST_SAID else ""
    return "; ".join(told[:_MOST_SAID]) + more + "." if told else ""


@dataclass(frozen=True, slots=True)
class DaysShown:
    """The days of a piece, and how far they are."""

    view: DaysView | None
    """None where nothing is known yet."""
    old: bool
    """Whether they are those of an older text, until new ones come."""
    doing: str
    """What is being done; empty where all is done."""
    failed: str
    state: str
    shop: str = ""
    """The digest of the shop file, by which its edits name what they were made on; empty where there is none."""


def days_shown(session: Workbench, view: View, days: DaysSoFar | None, older: DaysSoFar | None) -> DaysShown:
    """Return the days of a piece as far as they are planned; those of an older text until there are new ones."""
    state = view.state
    if view.reckoned.plan is not None and view.reckoned.plan.knows_timetable:
        return DaysShown(_days(view.reckoned, view.reckoned.plan.timetable), False, "", "", state)
    if days is not None and days.failed:
        return DaysShown(None, False, "", days.failed, state)
    if days is not None and days.timetable is not None and view.reckoned.plan is not None:
        so_far = _days(view.reckoned, days.timetable)
        return DaysShown(so_far, False, "" if days.last else days.doing, "", state)
    if view.reckoned.plan is None:
        return DaysShown(None, False, "", "what is wrong has to be put right before the days can be planned", state)
    doing = "planning" if days is None else days.doing
    kept = None if older is None else session.known(view.text.name, older.state)
    if older is not None and older.timetable is not None and kept is not None and kept.plan is not None:
        return DaysShown(_days(kept, older.timetable), True, doing, "", state)
    return DaysShown(None, False, doing, "", state)


def _days(reckoned: Reckoned, timetable: Timetable) -> DaysView | None:
    if reckoned.plan is None:
        return None
    if id(timetable) not in reckoned.views:
        plan = reckoned.plan if reckoned.plan.knows_timetable else with_stages(reckoned.plan, timetable=timetable)
        reckoned.views[id(timetable)] = (timetable, days_view(plan))
    view: DaysView = reckoned.views[id(timetable)][1]
    return view
