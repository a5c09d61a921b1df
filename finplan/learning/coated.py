"""What was coated when an amount was weighed: enough of it to reckon again what it should have taken."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from finplan.catalogue import Catalogue, Step
from finplan.material import CoatNeed, Term, coat_need
from finplan.quantity import Range
from finplan.system import CoatStep, FaceGroup

_MOST = 1e9
"""No coat is larger, in any unit that is written."""


@dataclass(frozen=True, slots=True)
class Coated:
    """One coat on one item, free of the plan that it was in: areas, wood and way, and nothing of the catalogue.

    So that a label that is entered later, or a catalogue that knows better, is reckoned with for old coats as well.
    """

    piece: str
    item: str
    step: str
    finish: str
    method: str
    coat: int
    bare: bool
    share: float
    """Of what stays in tool and pot, where several items were coated from one filling."""
    thin_pct: float
    dry_film_um: tuple[float, float, float] | None
    groups: tuple[tuple[str, str, float, float, str | None], ...]
    """Timber, kind, area, of it end grain [m²], and the last grade."""

    def plain(self) -> dict[str, Any]:
        """Return it as plain values."""
        return {name: getattr(self, name) for name in self.__dataclass_fields__}

    @classmethod
    def of(cls, values: Mapping[str, Any]) -> Coated:
        """Return what plain values say.

        Raises
        ------
        KeyError, TypeError, ValueError
            They are no coat.
        """
        film = values["dry_film_um"]
        return cls(
            **{name: str(values[name]) for name in ("piece", "item", "step", "finish", "method")},
            coat=int(values["coat"]),
            bare=bool(values["bare"]),
            share=_size(values["share"]),
            thin_pct=_size(values["thin_pct"]),
            dry_film_um=None if film is None else (_size(film[0]), _size(film[1]), _size(film[2])),
            groups=tuple(
                (str(timber), str(kind), _size(area), _size(ends), None if grit is None else str(grit))
                for timber, kind, area, ends, grit in values["groups"]
            ),
        )

    def known_to(self, catalogue: Catalogue) -> bool:
        """Return whether a catalogue has all that this names."""
        return (
            self.finish in catalogue.finishes
            and self.method in catalogue.methods
            and all(timber in catalogue.timbers for timber, *_ in self.groups)
        )

    def terms_ml(self, catalogue: Catalogue) -> tuple[Term, ...]:
        """Return what it should have taken of the liquid as it goes on, thinner included, by today's catalogue."""
        groups = [
            FaceGroup(
                part=self.item,
                shape="",
                count=1,
                timber=timber,
                faces=(str(number),),
                kind=kind,  # type: ignore[arg-type]
                exposure="show",
                area_m2=area_m2,
                end_grain_m2=end_grain_m2,
                surface="",
                coats=None,
            )
            for number, (timber, kind, area_m2, end_grain_m2, _) in enumerate(self.groups)
        ]
        film = None if self.dry_film_um is None else Range(*self.dry_film_um)
        recipe = Step.model_construct(
            do="coat", finish=self.finish, methods=(self.method,), thin_pct=self.thin_pct, dry_film_um=film
        )
        step = CoatStep(self.step, "coat", "", recipe, self.coat, self.finish, self.method, self.bare, tuple(groups))
        grits = {group: grit for group, (*_, grit) in zip(groups, self.groups, strict=True) if grit is not None}
        need = coat_need(self.item, step, catalogue, share=self.share, last_grits=grits, piece=self.piece)
        return need.wet_terms_ml


def coated_of(need: CoatNeed, last_grits: Mapping[FaceGroup, str]) -> Coated:
    """Return what a planned coat is, to be kept with what was weighed of it."""
    step = need.step
    film = step.recipe.dry_film_um
    return Coated(
        piece=need.piece,
        item=need.item,
        step=step.id,
        finish=need.finish,
        method=step.method,
        coat=step.coat or 0,
        bare=step.bare,
        share=need.share,
        thin_pct=step.recipe.thin_pct,
        dry_film_um=None if film is None else (film.low, film.typical, film.high),
        groups=tuple(
            (group.timber, group.kind, group.area_m2, group.end_grain_m2, last_grits.get(group))
            for group in step.groups
        ),
    )


def _size(written: Any) -> float:
    """Return an area, a share or a thickness that is written.

    Raises
    ------
    ValueError
        It is of no size that can be.
    """
    size = float(written)
    if not 0 <= size <= _MOST:
        msg = f"{size:g} is of no size that can be"
        raise ValueError(msg)
    return size


@dataclass(frozen=True, slots=True)
class Weighed:
    """Coats of one finish, and what was used for all of them together."""

    coats: tuple[Coated, ...]
    used_ml: float
    """Of the liquid as it goes on."""
    job: str
    """Tells the wood of one job from that of another."""
    person: str | None
    """Who put them on; None where nobody says."""
    told: str
    """As it is named to people: when, and which step."""

    @property
    def finish(self) -> str:
        """The finish of all of them."""
        return self.coats[0].finish
