"""What stands on the shop's shelf: what is left of finishes, thinners, abrasives and consumables."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Annotated, Any, Literal, Self

from pydantic import model_validator

from finplan.catalogue import Amount, Finish, amount
from finplan.inputs.grade import Grade
from finplan.problems import Finding, did_you_mean, shown
from finplan.reading import Day, Form, Name, Reads, Record, Title, fail

ShelfKind = Literal["finishes", "solvents", "abrasives", "consumables"]
_FIELDS: Mapping[str, ShelfKind] = {
    "finish": "finishes",
    "solvent": "solvents",
    "abrasive": "abrasives",
    "consumable": "consumables",
}
"""The field that names a thing, and the kind of record that it is."""
MAX_PIECES = 1_000_000


def _left(value: object) -> Amount | int:
    if isinstance(value, (bool, float)) or (isinstance(value, int) and not 0 <= value <= MAX_PIECES):
        fail(f"'{str(value)[:20]}' is not what is left", "expected 400 ml, 200 g, or a number of pieces: 7")
    return value if isinstance(value, int) else amount(value)


_LEFT_FORM = Form("an amount, or a number of pieces: 400 ml", {"type": ["string", "integer"]})


class ShelfItem(Record):
    """What is left of one thing, since when it is open."""

    finish: Name | None = None
    """A finish, by its name in the catalogue. Give one of finish, solvent, abrasive and consumable."""
    solvent: Name | None = None
    """A solvent."""
    abrasive: Name | None = None
    """An abrasive."""
    consumable: Name | None = None
    """A consumable."""
    component: Title | None = None
    """Of a finish of two components: which."""
    grit: Grade | None = None
    """Of an abrasive."""
    left: Annotated[
        Amount | int,
        Reads(_left),
        _LEFT_FORM,
    ]
    """What is left of it."""
    opened: Day | None = None
    """When it was opened, or made up; none where it is still sealed."""

    @model_validator(mode="after")
    def _is_one_thing(self) -> Self:
        named = [field for field in _FIELDS if getattr(self, field) is not None]
        if len(named) != 1:
            wrong = f"it is both {' and '.join(named)}" if named else "it does not say what it is"
            fail(wrong, f"expected one of {', '.join(_FIELDS)}")
        pieces = named[0] in ("abrasive", "consumable")
        if pieces != isinstance(self.left, int):
            expected = "expected a number of pieces: 7" if pieces else "expected an amount: 400 ml, 200 g"
            fail(f"what is left of this {named[0]} is given otherwise than it is counted", expected, ("left",))
        if (self.grit is not None) != (named[0] == "abrasive"):
            fail("'grit' belongs to an abrasive, and to nothing else", "expected grit: P120 of an abrasive", ("grit",))
        if self.component is not None and self.finish is None:
            fail("'component' belongs to a finish", "leave it out", ("component",), at_key=True)
        return self

    @property
    def named(self) -> tuple[str, ShelfKind, str]:
        """The field that says what it is, the kind of its record, and its name."""
        return next((field, kind, getattr(self, field)) for field, kind in _FIELDS.items() if getattr(self, field))


def shelf_findings(shelf: Sequence[ShelfItem], known: Mapping[str, Mapping[str, Any]]) -> list[Finding]:
    """Return a finding for everything on the shelf that no record stands for.

    Parameters
    ----------
    shelf
        What the shop file says
    known
        What may be named, by kind: records, or what is not read yet
    """
    return [
        finding.within("shelf", index) for index, item in enumerate(shelf) for finding in _item_findings(item, known)
    ]


def _item_findings(item: ShelfItem, known: Mapping[str, Mapping[str, Any]]) -> Iterator[Finding]:
    field, kind, name = item.named
    if name not in known[kind]:
        yield Finding((field,), f"{shown(name)} is not among the {kind}", did_you_mean(name, known[kind]))
        return
    finish = known[kind][name]
    if not isinstance(finish, Finish):
        return
    components = [part.name for part in finish.mix.components] if finish.mix else []
    if item.component is None and components:
        yield Finding((), f"{shown(name)} has components", f"say which is left: component: {' or '.join(components)}")
    elif item.component is not None and item.component not in components:
        wrong = f"'{item.component}' is no component of {shown(name)}"
        yield Finding(("component",), wrong, did_you_mean(item.component, components))
    if isinstance(item.left, Amount) and item.left.measure == "g":
        weighed = finish.dissolve is not None or finish.density_g_l is not None
        part = next(
            (
                mix_component
                for mix_component in (finish.mix.components if finish.mix else ())
                if mix_component.name == item.component
            ),
            None,
        )
        if part.density_g_l is None if part is not None else not weighed:
            yield Finding(("left",), "its density is not known", "expected a volume: 400 ml")
