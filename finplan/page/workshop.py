"""The pieces of a workshop: what each is, how far it is described, and until when it is wanted."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from finplan.listing import number_of
from finplan.moments import show_year_day
from finplan.page.in_place import bare
from finplan.page.reckoned import Figure, Reckoned
from finplan.page.workbench import Workbench
from finplan.problems import FinplanError


@dataclass(frozen=True, slots=True)
class Listed:
    """A piece of the list."""

    name: str
    title: str
    customer: str
    deliver: str
    state: str
    drawing: Markup | None
    """Of its first part."""


def pieces_listed(session: Workbench) -> list[Listed]:
    """Return the pieces of a folder, those with the nearest delivery first."""
    by_due = [(_due(session, name), _listed(session, name)) for name in session.folder.names()]
    return [listed for _, listed in sorted(by_due, key=lambda due: (due[0], due[1].title.lower(), due[1].name))]


def _listed(session: Workbench, name: str) -> Listed:
    try:
        known = session.view(name).reckoned
    except FinplanError as error:
        return Listed(name, name, "", "", str(error), None)
    data = known.data
    errors = sum(problem.severity == "error" for problem in known.problems)
    state = f"{number_of(errors, 'problem')} to put right" if errors else _surface(known.figures)
    drawing = next(iter(known.drawings.values()), None)
    picture = None if drawing is None else bare(drawing)
    return Listed(
        name,
        str(data.get("piece") or name)[:200],
        str(data.get("customer") or "")[:200],
        _delivery(known),
        state,
        picture,
    )


def _due(session: Workbench, name: str) -> str:
    """Return what a piece is sorted by: its date, those without one last."""
    try:
        given = session.view(name).reckoned.data.get("deliver")
    except FinplanError:
        return "~"
    return str(given or "~")


def _delivery(known: Reckoned) -> str:
    date = known.piece.deliver if known.piece else None
    if date is None:
        return "no delivery date"
    at = "" if date.clock is None else f" {date.clock:%H:%M}"
    return f"by {show_year_day(date.day)}{at}"


def _surface(figures: tuple[Figure, ...]) -> str:
    first = next((figure for figure in figures if figure.group == "surface"), None)
    return "in order" if first is None else f"in order: {first.value}"
