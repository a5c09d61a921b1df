"""What each coat takes and what to measure out for it, for a person: tables with a line for each finish."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import groupby
from textwrap import wrap

from finplan.catalogue import Catalogue
from finplan.cli.table import table
from finplan.listing import breakable, listed
from finplan.material import SAMPLE, CoatNeed, MaterialPlan, MeasuredOut, total
from finplan.quantity import Range, Units
from finplan.showing import show_area, show_volume
from finplan.telling import Mixing, OfItem, for_each, numbers_words

_MIX = 40
"""Letters of a line of what is mixed, so that it fits the screen behind the amounts."""
Entry = tuple[str, str, list[list[str]]]
"""Item, label of the coat, and the cells behind them, on one line or several."""


def coat_tables(plan: MaterialPlan, catalogue: Catalogue, units: Units) -> list[str]:
    """Return both tables for every piece; the sample boards of several pieces have their own."""
    coats = plan.coats
    samples = [coat for coat in coats if coat.item == SAMPLE]
    pieces = dict.fromkeys(coat.piece for coat in coats if coat.item != SAMPLE)
    alone = len(pieces) == 1

    def both(coats: Sequence[CoatNeed], takes: str, measure: str) -> list[str]:
        return [
            takes,
            "",
            *_takes(coats, catalogue, units),
            "",
            measure,
            "",
            *_measured(coats, plan, catalogue, units),
            "",
        ]

    lines: list[str] = []
    for piece in pieces:
        needs = [coat for coat in coats if coat.piece == piece or (alone and coat.item == SAMPLE)]
        of_piece = "" if alone else f": {piece}"
        lines += both(needs, f"What each coat takes{of_piece}", f"What to measure out{of_piece}")
    if samples and not alone:
        lines += both(samples, "What the sample boards take", "What to measure out for them")
    return lines


def _takes(coats: Sequence[CoatNeed], catalogue: Catalogue, units: Units) -> list[str]:
    mixing = Mixing(catalogue, units)
    thinned = any(coat.thinner_ml.typical for coat in coats)

    def cells(coat: CoatNeed, needed_ml: Range, thinner_ml: Range) -> list[list[str]]:
        finish = catalogue.finishes[coat.finish]
        amounts = [mixing.taken(one_ml, finish) for one_ml in (needed_ml.low, needed_ml.typical, needed_ml.high)]
        thinner = [show_volume(thinner_ml.typical, units) if thinner_ml.typical else ""] if thinned else []
        return [[show_area(coat.area_m2, units), *amounts, *thinner]]

    def entries(coats: Sequence[CoatNeed]) -> Iterator[Entry]:
        for coat in coats:
            if coat.item != SAMPLE:
                yield coat.item, coat.step.label, cells(coat, coat.needed_ml, coat.thinner_ml)
        samples = [coat for coat in coats if coat.item == SAMPLE]
        for _, of_system in groupby(samples, key=lambda coat: coat.board_of):
            board = list(of_system)
            needed_ml = total(term for coat in board for term in coat.finish_terms_ml).range
            thinner_ml = total(term for coat in board for term in coat.thinner_terms_ml).range
            label = board[0].step.label if len(board) == 1 else "all coats"
            yield SAMPLE, label, cells(board[0], needed_ml, thinner_ml)

    heading = ["item", "coat", "area", "low", "typical", "high", *(["thinner"] if thinned else [])]
    return _by_finish(heading, coats, entries, catalogue, "llrrrrr")


def _measured(coats: Sequence[CoatNeed], plan: MaterialPlan, catalogue: Catalogue, units: Units) -> list[str]:
    """Return what is measured out, the parts of a mix below each other."""
    mixing = Mixing(catalogue, units)

    def cells(measured: MeasuredOut) -> list[list[str]]:
        mass = mixing.by_mass(measured)
        pour = mixing.poured(measured) + (f" ({mass})" if mass else "")
        words = [
            breakable(part) for line in mixing.lines(measured) for part in wrap(line, _MIX, subsequent_indent="  ")
        ]
        first, *others = words or [""]
        return [[pour, mixing.up_to(measured), first], *(["", "", other] for other in others)]

    def entries(coats: Sequence[CoatNeed]) -> Iterator[Entry]:
        return ((coat.item, measured.label, cells(measured)) for coat in coats for measured in plan.measured_of(coat))

    return _by_finish(["item", "coat", "pour out", "up to", "mix"], coats, entries, catalogue, "lllrl")


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
        needs = list(of_finish)
        in_set = {coat.item: (coat.number, coat.several) for coat in needs if coat.item != SAMPLE}
        of_item: dict[str, list[tuple[str, list[list[str]]]]] = {}
        alike = groupby(entries(needs), key=lambda entry: (entry[0], entry[1].partition(",")[2], entry[2]))
        for (item, faces, cells), same in alike:
            labels = [label.partition(",")[0] for _, label, _ in same]
            label = _label(labels) + (f",{faces}" if faces else "")
            of_item.setdefault(item, []).append((label, cells))
        items = [(item, *in_set.get(item, (0, False)), told) for item, told in of_item.items()]
        for item, told in for_each(OfItem(item, item, number, told, several) for item, number, several, told in items):
            for label, (first, *others) in told:
                rows.append([f"  {item}", label, *first])
                rows += [["", "", *other] for other in others]
    head, rule, *lines = table(heading, rows, right)
    for place, title in reversed(titles):
        lines.insert(place, title)
    return [head, rule, *lines]


def _label(labels: Sequence[str]) -> str:
    """Return what coats are called together; between them may lie one of another finish.

    >>> _label(["coat 2"]), _label(["coat 2", "coat 3"]), _label(["coat 3", "coat 5"])
    ('coat 2', 'coats 2–3', 'coats 3 and 5')
    >>> _label(["coat 2", "sealing coat"])
    'coat 2 and sealing coat'
    """
    coats = [label.removeprefix("coat ") for label in labels]
    if len(labels) == 1 or not all(coat.isdecimal() for coat in coats):
        return listed(labels)
    numbers = [int(coat) for coat in coats]
    if numbers == list(range(numbers[0], numbers[-1] + 1)):
        return f"coats {numbers[0]}–{numbers[-1]}"
    return f"coats {numbers_words(numbers)}"
