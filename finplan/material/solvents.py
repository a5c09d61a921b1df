"""Thinners and cleaners as they are bought: what thins coats, what solids are dissolved in, what cleans the tools."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from finplan.catalogue import Amount
from finplan.material.cause import Term, cause, median
from finplan.material.finishes import made_up_ml, uses_of
from finplan.material.job import Filling, MaterialJob, filling_of
from finplan.material.market import Market
from finplan.material.need import CoatNeed
from finplan.material.shelf import Left, OnShelf, on_shelf
from finplan.material.solution import solution_of
from finplan.material.supply import Supply, offers, supplied
from finplan.material.total import total
from finplan.material.use import CLEANING, SAMPLE, Use
from finplan.showing import capital

TAP = "water"
"""The one solvent that nobody buys."""


def solvent_supplies(coats: Sequence[CoatNeed], market: Market, jobs: Sequence[MaterialJob] = ()) -> tuple[Supply, ...]:
    """Return what has to be bought of everything that thins, dissolves, cleans and strips; water comes from the tap.

    Parameters
    ----------
    coats
        What is put on
    market
        What buying goes by
    jobs
        The pieces, whose steps beside the coats use up liquids too

    Notes
    -----
    Thinner is as uncertain as the coat that it thins, and for the same causes. Tools are cleaned once for every coat
    that is put on in one go; how much of it a hand takes for that is common to all cleanings of one sort of tool.
    """
    uses: dict[str, list[Use]] = {}
    titles: dict[str, str] = {}
    for name, title, use in (*_uses(coats, market), *_beside(jobs, market)):
        uses.setdefault(name, []).append(use)
        titles.setdefault(name, title)
    return tuple(
        _solvent(name, titles[name], of_solvent, coats, market) for name, of_solvent in uses.items() if name != TAP
    )


def _uses(coats: Sequence[CoatNeed], market: Market) -> Iterator[tuple[str, str, Use]]:
    for coat in coats:
        finish = market.catalogue.finishes[coat.finish]
        thinner = coat.thinner_terms_ml
        if thinner:
            name, title = _named(coat.finish, finish.thinner_solvent, finish.thinner, market)
            label = f"{coat.step.label}, thinner"
            yield name, title, Use(coat.piece, coat.item, label, coat.area_m2, thinner)
        if finish.dissolve is not None and finish.bought_dry:
            (use,) = uses_of([coat], solution_of(finish.dissolve).liquid_share)
            title = market.catalogue.solvents[finish.dissolve.liquid].title
            yield finish.dissolve.liquid, title, replace(use, coat=f"{coat.step.label}, to dissolve")
    fillings: dict[Filling, CoatNeed] = {}
    for coat in coats:
        if coat.item != SAMPLE:
            fillings.setdefault(filling_of(coat.step), coat)
    for coat in fillings.values():
        finish = market.catalogue.finishes[coat.finish]
        method = coat.step.method or ""
        rinse_ml = market.catalogue.methods[method].rinse_ml
        if rinse_ml is None:
            continue
        rinse = Term(median(rinse_ml), cause("hand", (method, "rinse"), rinse_ml))
        name, title = _named(coat.finish, finish.clean_up_solvent, finish.clean_up, market)
        yield name, title, Use("", CLEANING, f"after {coat.step.label}, {coat.finish}", None, (rinse,))


def _beside(jobs: Sequence[MaterialJob], market: Market) -> Iterator[tuple[str, str, Use]]:
    """Give what steps beside the coats take: their area at how far a litre goes, which one hand has for all of them."""
    for job in jobs:
        for work in job.extras:
            for name, rate_m2_l in work.record.liquids.items():
                laid = cause("hand", (work.name, name), rate_m2_l)
                term = Term(work.area_m2 * 1000 / median(rate_m2_l), laid)
                use = Use(job.piece, work.item, work.record.label, work.area_m2, (term,))
                yield name, market.catalogue.solvents[name].title, use


def _named(of: str, solvent: str | None, words: str | None, market: Market) -> tuple[str, str]:
    """Return the name and the title of what thins or cleans: a record, or what belongs to the product."""
    if solvent is not None:
        return solvent, market.catalogue.solvents[solvent].title
    told = (words or "thinner").partition(",")[0].replace("its own", "own")
    product = market.catalogue.finishes[of].title.partition(",")[0]
    return f"{of}-thinner", f"{capital(told)} for {product[:1].lower()}{product[1:]}"


def _solvent(name: str, title: str, uses: Sequence[Use], coats: Sequence[CoatNeed], market: Market) -> Supply:
    solvent = market.catalogue.solvents.get(name)
    packs = (solvent.packs if solvent is not None else None) or market.catalogue.packs[market.units].solvents
    density_g_l = solvent.density_g_l if solvent is not None else None

    def counted_ml(amount: Amount) -> float | None:
        if amount.measure == "ml":
            return amount.value
        return amount.value * 1000 / density_g_l.typical if density_g_l is not None else None

    items = [item for item in market.shelf if item.solvent == name]
    shelf = on_shelf(items, counted_ml, None, market.day)
    return supplied(
        name,
        title,
        "ml",
        uses,
        offers(packs, "ml", density_g_l),
        market,
        shelf=OnShelf(shelf.items + tuple(_already_in(name, coats, market))),
    )


def _already_in(name: str, coats: Sequence[CoatNeed], market: Market) -> Iterator[Left]:
    """Give what a solution that stands ready on the shelf already holds of a solvent."""
    for of in dict.fromkeys(coat.finish for coat in coats):
        finish = market.catalogue.finishes[of]
        if finish.dissolve is None or not finish.bought_dry or finish.dissolve.liquid != name:
            continue
        ready_ml = made_up_ml(of, market)
        terms_ml = [term for coat in coats if coat.finish == of for term in coat.finish_terms_ml]
        needed_ml = total(terms_ml).at(market.confidence)
        held_ml = min(ready_ml, needed_ml) * solution_of(finish.dissolve).liquid_share
        if held_ml > 0:
            yield Left(f"in {of}", held_ml, None, None, good=True)
