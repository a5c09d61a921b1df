"""What a shop's grades do for a grade that it may lack, and which to buy so that no step is too long."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from math import inf, log

from finplan.catalogue import Catalogue, grade_sizes, is_cami, on_other_scale
from finplan.inputs import Shop
from finplan.sanding.progression import progression


@dataclass(frozen=True, slots=True)
class Stock:
    """The grades at hand, and all that there are."""

    at_hand: tuple[str, ...]
    """Coarse to fine."""
    sizes_um: Mapping[str, float]
    """Of every grade of both scales."""
    ladder: tuple[str, ...]
    """The grades that are bought where one is missing."""
    as_good: float
    """A grade whose grain is no more than so many times larger or smaller does for another."""
    kept: bool = True
    """Whether the shop has what is at hand, or names none, so that whatever is wanted is bought."""

    @property
    def sizes_at_hand(self) -> dict[str, float]:
        """Mean grain size of what is at hand. [µm]"""
        return {grit: self.sizes_um[grit] for grit in self.at_hand}

    def like(self, wanted: str) -> str | None:
        """Return the grade at hand that is, or does for, the one wanted; None where there is none."""
        nearest = self._nearest(wanted, self.at_hand)
        return nearest if self._apart(wanted, nearest) <= log(self.as_good) else None

    def next_finer(self, wanted: str, cap: float) -> str | None:
        """Return the coarsest grade at hand that is finer than the one wanted, by *cap* in grain size at most."""
        most_um = self.sizes_um[wanted]
        return next((grit for grit in self.at_hand if most_um / cap <= self.sizes_um[grit] <= most_um), None)

    def nearest_within(self, wanted: str, cap: float) -> str | None:
        """Return the grade at hand that is nearest to the one wanted, by *cap* in grain size at most."""
        nearest = self.nearest(wanted)
        return nearest if self._apart(wanted, nearest) <= log(cap) else None

    def start(self, wanted: str) -> str:
        """Return the grade to start with: the one wanted, else the next coarser one, else the coarsest."""
        coarser = [grit for grit in self.at_hand if self.sizes_um[grit] >= self.sizes_um[wanted]]
        return self.like(wanted) or (coarser[-1] if coarser else self.at_hand[0])

    def start_no_coarser(self, wanted: str, coarsest: str) -> str:
        """Return the grade to start with where none coarser than *coarsest* may be used."""
        usual = self.start(wanted)
        if self.sizes_um[usual] <= self.sizes_um[coarsest] * self.as_good:
            return usual
        finer = [grit for grit in self.at_hand if self.sizes_um[grit] <= self.sizes_um[coarsest] * self.as_good]
        return finer[0] if finer else usual

    def stop(self, wanted: str, finest: str | None, coarsest: str | None = None) -> str:
        """Return the grade to stop at: the one wanted, else the nearest in size within what is tolerated."""
        least_um = 0.0 if finest is None else self.sizes_um[finest] / self.as_good
        most_um = inf if coarsest is None else self.sizes_um[coarsest] * self.as_good
        tolerated = [grit for grit in self.at_hand if least_um <= self.sizes_um[grit] <= most_um]
        return self.like(wanted) or self._nearest(wanted, tolerated or self.at_hand)

    def named(self, wanted: str) -> str:
        """Return the grade wanted as the shop can buy it: of a scale that is not sold there, the nearest.

        Where both are at hand both are sold, else one of them.
        """
        return wanted if self._is_sold(wanted) else on_other_scale(wanted, self.sizes_um)

    def of_at_hand(self, grits: Iterable[str]) -> Stock:
        """Return the stock with these alone of what is at hand."""
        chosen = set(grits)
        return replace(self, at_hand=tuple(grit for grit in self.at_hand if grit in chosen), kept=True)

    def nearest(self, wanted: str) -> str:
        """Return the grade at hand that is nearest in size."""
        return self._nearest(wanted, self.at_hand)

    def mended(self, start: str, stop: str, cap: float) -> tuple[str, ...]:
        """Return the way from *start* to *stop* that keeps the cap with the fewest grades more than are at hand.

        Only grades of a scale that is sold are bought: of the ladder, or any where that has none that is near enough.
        """
        start, stop = (self.like(grit) or self.named(grit) for grit in (start, stop))
        have = {**self.sizes_at_hand, start: self.sizes_um[start], stop: self.sizes_um[stop]}
        for fall in progression(start, stop, have, cap).beyond_cap:
            ends = {grit: have[grit] for grit in (fall.coarse, fall.fine)}
            bridges = [progression(fall.coarse, fall.fine, {**more, **ends}, cap) for more in self._on_sale()]
            bridge = next((way for way in bridges if way.within_cap), bridges[-1])
            have.update({grit: self.sizes_um[grit] for grit in bridge.grits})
        return progression(start, stop, have, cap).grits

    def to_buy(self, grits: Iterable[str]) -> tuple[str, ...]:
        """Return those grades that are not at hand."""
        return tuple(grit for grit in grits if grit not in self.at_hand)

    @property
    def _cami_only(self) -> bool:
        return all(is_cami(grit) for grit in self.at_hand)

    def _is_sold(self, grit: str) -> bool:
        return any(is_cami(grit) is is_cami(own) for own in self.at_hand)

    def _on_sale(self) -> list[dict[str, float]]:
        """Return the grades to choose from: of the ladder, else of the scale, else even what others nearly do for."""
        scale = {grit: size_um for grit, size_um in self.sizes_um.items() if self._is_sold(grit)}
        missing = {grit: size_um for grit, size_um in scale.items() if self.like(grit) is None}
        ladder = {grit: size_um for grit, size_um in missing.items() if grit in self.ladder}
        return [missing, scale] if self._cami_only else [ladder, missing, scale]

    def _nearest(self, wanted: str, among: Iterable[str]) -> str:
        return min(among, key=lambda grit: (self._apart(wanted, grit), self.sizes_um[grit]))

    def _apart(self, grit: str, other: str) -> float:
        return abs(log(self.sizes_um[grit] / self.sizes_um[other]))


def stock_of(shop: Shop, catalogue: Catalogue) -> Stock:
    """Return the grades of a shop; every P-grade where it names none."""
    sizes_um = grade_sizes(catalogue)
    kept = [grit for grit in shop.grits if grit in sizes_um] or [grit for grit in sizes_um if not is_cami(grit)]
    rules = catalogue.sanding_rules["usual"]
    at_hand = tuple(sorted(dict.fromkeys(kept), key=lambda grit: -sizes_um[grit]))
    return Stock(at_hand, sizes_um, rules.ladder, rules.as_good, kept=bool(shop.grits))
