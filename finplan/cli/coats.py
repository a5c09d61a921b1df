"""What each coat takes and what to measure out for it, for a person: tables with a line for each finish."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import groupby

from finplan.catalogue import Catalogue
from finplan.cli.table import table
from finplan.material import SAMPLE, CoatNeed, MaterialPlan, MixPart, total
from finplan.material.measuring import weighed
from finplan.quantity import Range, Units
from finplan.showing import plain, show_area, show_mass, show_measured, show_volume

Entry = tuple[str, str, list[list[str]]]
"""Item, label of the coat, and the cells behind them, on one line or several."""


def coat_tables(plan: MaterialPlan, catalogue: Catalogue, units: Units) -> list[str]:
    """Return both tables for every piece; the sample boards of several pieces have their own."""
    coats = [coat for need in plan.materials for coat in need.coats]
    samples = [coat for coat in coats if coat.item == SAMPLE]
    pieces = dict.fromkeys(coat.piece for coat in coats if coat.item != SAMPLE)
    alone = len(pieces) == 1

    def both(found: Sequence[CoatNeed], takes: str, measure: str) -> list[str]:
        return [
            takes,
            "",
            *_takes(found, catalogue, units),
            "",
            measure,
            "",
            *_measured(found, plan, catalogue, units),
            "",
        ]

    lines: list[str] = []
    for piece in pieces:
        found = [coat for coat in coats if coat.piece == piece or (alone and coat.item == SAMPLE)]
        of_piece = "" if alone else f": {piece}"
        lines += both(found, f"What each coat takes{of_piece}", f"What to measure out{of_piece}")
    if samples and not alone:
        lines += both(samples, "What the sample boards take", "What to measure out for them")
    return lines


def part(one: MixPart, units: Units) -> str:
    """Return one part of a mix: how much, and of what."""
    return f"{_amount(one, units)} {one.name}"


def _amount(one: MixPart, units: Units) -> str:
    """Return a part by volume and by mass, as far as it can be measured so."""
    volume = "" if one.volume_ml is None else show_measured(one.volume_ml, units)
    mass = "" if one.mass_g is None else show_mass(one.mass_g, units)
    return f"{volume} ({mass})" if volume and mass else volume or mass


def _takes(coats: Sequence[CoatNeed], catalogue: Catalogue, units: Units) -> list[str]:
    thinned = any(coat.thinner_ml.typical for coat in coats)

    def cells(coat: CoatNeed, needed_ml: Range, thinner_ml: Range) -> list[list[str]]:
        amounts = [
            _by_mass(one_ml, coat, catalogue, units) or show_volume(one_ml, units)
            for one_ml in (needed_ml.low, needed_ml.typical, needed_ml.high)
        ]
        thinner = [show_volume(thinner_ml.typical, units) if thinner_ml.typical else ""] if thinned else []
        return [[show_area(coat.area_m2, units), *amounts, *thinner]]

    def entries(found: Sequence[CoatNeed]) -> Iterator[Entry]:
        for coat in found:
            if coat.item != SAMPLE:
                yield coat.item, coat.step.label, cells(coat, coat.needed_ml, coat.thinner_ml)
        samples = [coat for coat in found if coat.item == SAMPLE]
        for _, of_system in groupby(samples, key=lambda coat: coat.step.id.rpartition("/")[0]):
            board = list(of_system)
            needed_ml = total(term for coat in board for term in coat.finish_terms_ml).range
            thinner_ml = total(term for coat in board for term in coat.thinner_terms_ml).range
            label = board[0].step.label if len(board) == 1 else "all coats"
            yield SAMPLE, label, cells(board[0], needed_ml, thinner_ml)

    heading = ["item", "coat", "area", "low", "typical", "high", *(["thinner"] if thinned else [])]
    return _by_finish(heading, coats, entries, catalogue, "llrrrrr")


def _measured(coats: Sequence[CoatNeed], plan: MaterialPlan, catalogue: Catalogue, units: Units) -> list[str]:
    """Return what is measured out, the parts of a mix below each other."""

    def entries(found: Sequence[CoatNeed]) -> Iterator[Entry]:
        # Of a sample board the most that a coat takes serves them all: it is a few drops more.
        most = max(
            (coat for coat in found if coat.item == SAMPLE), key=lambda coat: coat.needed_ml.typical, default=None
        )
        for coat in found:
            words = _mix_words(coat, plan, units)
            simple = coat.item == SAMPLE and not words and most is not None
            mix = plan.mix_of(most if simple and most is not None else coat)
            times = f", {mix.batches} times" if mix.batches > 1 else ""
            pour = _by_mass(mix.decant.volume_ml or 0.0, coat, catalogue, units) or _amount(mix.decant, units)
            up_to = _by_mass(mix.up_to_ml, coat, catalogue, units) or show_measured(mix.up_to_ml, units)
            first, *others = words or [""]
            yield coat.item, coat.step.label, [[pour + times, up_to, first], *(["", "", other] for other in others)]

    return _by_finish(["item", "coat", "pour out", "up to", "mix"], coats, entries, catalogue, "lllrl")


def _mix_words(coat: CoatNeed, plan: MaterialPlan, units: Units) -> list[str]:
    mix = plan.mix_of(coat)
    words = [part(one, units) for one in mix.parts]
    if mix.thinner is not None:
        words.append(f"thin with {part(mix.thinner, units)}")
    if coat.film is not None:
        words.append(f"wet film {_microns(coat.film.gauge_um.typical, units)}")
    return words


def _by_mass(volume_ml: float, coat: CoatNeed, catalogue: Catalogue, units: Units) -> str:
    """Return an amount of what comes out of its tin by mass, as wax does; empty of anything else."""
    finish = catalogue.finishes[coat.finish]
    if finish.measure != "g" or finish.dissolve is not None or finish.density_g_l is None:
        return ""
    return show_mass(weighed(volume_ml * finish.density_g_l.typical / 1000, units), units)


def _microns(thickness_um: float, units: Units) -> str:
    return f"{plain(thickness_um, 2)} µm" if units == "metric" else f"{plain(thickness_um / 25.4, 2)} mil"


def _by_finish(
    heading: Sequence[str],
    coats: Sequence[CoatNeed],
    entries: Callable[[Sequence[CoatNeed]], Iterator[Entry]],
    catalogue: Catalogue,
    right: str,
) -> list[str]:
    """Return a table with the title of each finish above its coats; coats of an item that are alike on one line."""
    rows: list[list[str]] = []
    titles: list[tuple[int, str]] = []
    for finish, of_finish in groupby(coats, key=lambda coat: coat.finish):
        titles.append((len(rows), catalogue.finishes[finish].title))
        alike = groupby(entries(list(of_finish)), key=lambda entry: (entry[0], entry[2]))
        for (item, (first, *others)), same in alike:
            labels = [label for _, label, _ in same]
            rows.append([f"  {item}", _label(labels[0], labels[-1]), *first])
            rows += [["", "", *other] for other in others]
    head, rule, *lines = table(heading, rows, right)
    for place, title in reversed(titles):
        lines.insert(place, title)
    return [head, rule, *lines]


def _label(first: str, last: str) -> str:
    """Return what coats that follow each other are called together."""
    if first == last:
        return first
    return f"{first}–{last.removeprefix('coat ')}".replace("coat ", "coats ", 1)
