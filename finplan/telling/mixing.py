"""What is measured out, in words: poured, mixed, thinned, made up ahead, and how thick it goes on."""

from __future__ import annotations

from collections.abc import Sequence

from finplan.catalogue import Catalogue, Finish
from finplan.listing import NO_BREAK
from finplan.material import CoatMix, MakeUp, MeasuredOut, MixPart, joint_parts, thinned_cut, weighed
from finplan.quantity import Units
from finplan.showing import plain, show_duration, show_film, show_mass, show_measured, show_strength, show_volume
from finplan.spans import show_range


class Mixing:
    """Words for what is measured out at once, for a coat or for one side of it, in the units of one plan."""

    def __init__(self, catalogue: Catalogue, units: Units) -> None:
        self._catalogue = catalogue
        self._units = units

    def poured(self, measured: MeasuredOut, *, mixed: bool = False) -> str:
        """Return how much is poured out, both components together; of batches, each. What is a paste is weighed.

        Of what is *mixed* for several coats at once it is what this one takes of that.
        """
        poured = measured.mix.of_batch if mixed else measured.mix.decant
        volume_ml, mass_g = poured.volume_ml or 0.0, poured.mass_g
        by_mass = mass_g is not None and is_weighed(self._finish(measured))
        amount = show_mass(mass_g or 0.0, self._units) if by_mass else show_measured(volume_ml, self._units)
        return amount if measured.mix.batches == 1 else f"{measured.mix.batches} × {amount}"

    def by_mass(self, measured: MeasuredOut) -> str:
        """Return the same by mass, for who would rather weigh it; empty where that is said already, or not known."""
        mass_g = measured.mix.decant.mass_g
        return "" if mass_g is None or is_weighed(self._finish(measured)) else show_mass(mass_g, self._units)

    def unit(self, measured: MeasuredOut) -> str:
        """Return the unit in which what was really used is written down."""
        metric, us = ("g", "oz") if is_weighed(self._finish(measured)) else ("ml", "fl oz")
        return metric if self._units == "metric" else us

    def up_to(self, measured: MeasuredOut) -> str:
        """Return the most that it may take, of all batches together."""
        return self._by_mass(measured.mix.up_to_ml, self._finish(measured)) or show_measured(
            measured.mix.up_to_ml, self._units
        )

    def up_to_of(self, coats: Sequence[MeasuredOut]) -> str:
        """Return the most that several coats of a finish may take together."""
        return show_measured(sum(measured.mix.up_to_ml for measured in coats), self._units)

    def taken(self, volume_ml: float, finish: Finish, like_ml: float | None = None) -> str:
        """Return how much a coat takes of a finish, which nobody measures out; of a paste by mass.

        Where several stand in a row all are shown in the unit of one of them, *like_ml*. [ml]
        """
        return self._by_mass(volume_ml, finish) or show_volume(volume_ml, self._units, like_ml)

    def lines(
        self, measured: MeasuredOut, *, mixed: bool = False, anew: bool = False, apart: bool = False
    ) -> tuple[str, ...]:
        """Return what is mixed: the components, the thinner on top, the batches, and the film to lay.

        Amounts hold together with spaces at which no line breaks. Of what is *mixed* already the components are left
        out; of what is mixed *anew* after every break they are told of all of it. How long a mix lasts stands behind
        them, or *apart* in a line of its own, which may be the same of every coat.
        """
        coat, mix = measured.coat, measured.mix
        lines: list[str] = []
        if mix.parts and not mixed:
            words, lasts = (self._in_all(measured), "") if anew else self._mix(mix)
            told = (
                (words, f"the mix {lasts}" if lasts else "") if apart else (f"{words}; it {lasts}" if lasts else words,)
            )
            lines += [line for line in told if line]
        if mix.thinner is not None:
            words = f"thin with {self._part(mix.thinner)} ({plain(coat.step.recipe.thin_pct)} %)"
            finish = self._finish(measured)
            cut = thinned_cut(coat, finish) if finish.family == "shellac" else None
            lines.append(words if cut is None else f"{words}: {plain(cut, 2)} lb cut")
        if mix.batches > 1 and not mix.parts and not anew:
            lines.append(f"{self._times(mix)}; each lasts {show_duration(mix.use_within_h or 0.0)}")
        if coat.film is not None:
            gauge = show_range(coat.film.gauge_um, lambda value_um: show_film(value_um, self._units))
            lines.append(f"lay it {gauge} wet by the comb gauge")
        return tuple(lines)

    def together(self, coats: Sequence[MeasuredOut]) -> str:
        """Return the components of one batch for several coats of a finish; empty of what has none."""
        marks = self._catalogue.measuring[self._units]
        parts = joint_parts(self._finish(coats[0]), [measured.mix for measured in coats], marks)
        return " + ".join(self._part(part) for part in parts)

    def _mix(self, mix: CoatMix) -> tuple[str, str]:
        """Return what is mixed, how often, once or so that none outlasts its pot life; and how long one lasts."""
        parts = " + ".join(self._part(part) for part in mix.parts)
        if mix.batches > 1:
            return f"{self._times(mix)}: {parts}; each lasts {show_duration(mix.use_within_h or 0.0)}", ""
        return f"mix once: {parts}", f"lasts {show_duration(mix.use_within_h)}" if mix.use_within_h else ""

    def _in_all(self, measured: MeasuredOut) -> str:
        """Return what is mixed before and after breaks, which is not the same each time."""
        whole = self.together([measured] * measured.mix.batches)
        return f"in all {whole}: mix each time in this ratio what goes on before the next break"

    def _times(self, mix: CoatMix) -> str:
        often = "twice" if mix.batches == 2 else f"{mix.batches} times"
        return f"mix {often}, the next when the one before is used up, each time"

    def make_up(self, made: MakeUp) -> str:
        """Return how a solution is made up ahead of all coats."""
        strength = show_strength(made.strength_g_l, self._units)
        if self._catalogue.finishes[made.finish].family == "shellac":
            strength += f", a {plain(made.cut_lb_gal, 2)} lb cut"
        words = f"Make up {show_measured(made.volume_ml, self._units)} for all coats: {self._part(made.solid)} in "
        words += f"{self._part(made.liquid)} ({strength})"
        wait = f" It dissolves in {show_range(made.wait_h, show_duration)}." if made.wait_h is not None else ""
        return f"{words}.{wait}"

    def _part(self, part: MixPart) -> str:
        """Return one part by volume and by mass, as far as it is measured so."""
        volume = "" if part.volume_ml is None else show_measured(part.volume_ml, self._units)
        mass = "" if part.mass_g is None else show_mass(part.mass_g, self._units)
        amount = f"{volume} ({mass})" if volume and mass else volume or mass
        return f"{amount.replace(' ', NO_BREAK)} {part.name}"

    def _finish(self, measured: MeasuredOut) -> Finish:
        return self._catalogue.finishes[measured.coat.finish]

    def _by_mass(self, volume_ml: float, finish: Finish) -> str:
        """Return an amount of a paste by mass; empty of anything else."""
        if finish.density_g_l is None or not is_weighed(finish):
            return ""
        return show_mass(
            weighed(volume_ml * finish.density_g_l.typical / 1000, self._catalogue.measuring[self._units]), self._units
        )


def is_weighed(finish: Finish) -> bool:
    """Return whether what comes out of its tin is measured by mass, as wax is; not what is dissolved before."""
    return finish.measure == "g" and finish.dissolve is None and finish.density_g_l is not None
