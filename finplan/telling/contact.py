"""What is published of a finish that food or children touch, in words."""

from __future__ import annotations

import re
from collections.abc import Iterator

from finplan.catalogue import ContactNote
from finplan.planning import Plan, PlannedPiece
from finplan.showing import capital
from finplan.telling.dates import cured_words
from finplan.telling.names import marked_name

_WHOM = {"food": "food", "child": "children"}
_TITLES = {"food": "Food", "child": "Children"}


def contact_words(plan: Plan) -> Iterator[str]:
    """Give a sentence for every item that food or children touch, and from when its finish has cured."""
    items = {
        treatment.in_plan: marked_name(treatment.item, plan.piece_of(treatment), plan) for treatment in plan.treatments
    }
    for line in plan.safety.contact:
        cured = f" {capital(cured_words(line.cured))}." if line.cured else ""
        yield f"{capital(items[line.item])}, contact with {_WHOM[line.contact]}: {line.text}{cured}"


def is_meant(note: ContactNote, name: str) -> bool:
    """Return whether a piece is by its name meant for the contact that a note speaks of."""
    words = "|".join(re.escape(word) for word in note.pieces)
    return re.search(rf"\b(?:{words})(?:e?s)?\b", name.casefold()) is not None


def card_contact(piece: PlannedPiece, plan: Plan) -> Iterator[tuple[str, str]]:
    """Give what the card of a piece says of food and children, each with its title.

    What is published is said where the piece is by its name meant for it; of any other the workshop is asked first. Of
    one that is meant for children, what holds for any coating of it is said whatever that is.
    """
    items = {treatment.in_plan for treatment in piece.treatments}
    lines = [(line.contact, line.text) for line in plan.safety.contact if line.item in items]
    notes = {note.text: note for note in plan.catalogue.contact.values()}
    name = piece.source.piece.name
    if any(step.finish is not None for treatment in piece.treatments for step in treatment.steps):
        lines += [("child", note.text) for note in notes.values() if note.contact == "child" and is_meant(note, name)]
    asked: list[str] = []
    for line in dict.fromkeys(lines):
        if is_meant(notes[line[1]], name):
            yield _TITLES[line[0]], line[1]
        else:
            asked.append(line[0])
    for contact in dict.fromkeys(asked):
        yield (
            _TITLES[contact],
            f"Before it is used with {_WHOM[contact]} ask the workshop, and keep to the label of the product.",
        )
