"""What lies between coats is abraded with the grades that the shop keeps, and called as it calls them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from finplan.catalogue import Catalogue
from finplan.inputs import Shop
from finplan.sanding.stock import stock_of
from finplan.system import Treatment, TreatmentStep


def in_kept_grades(treatments: tuple[Treatment, ...], shop: Shop, catalogue: Catalogue) -> tuple[Treatment, ...]:
    """Return treatments whose abrading and rubbing out name the grade that is taken off the shelf.

    Notes
    -----
    A system asks for P320, say, and a shop keeps CAMI grades. Where it keeps none that does for the one asked for, a
    coat is abraded with the next finer one, if that is no further off than one grade may be from the next: a coarser
    one leaves scratches that show. Raised fibres of bare wood are taken off with the nearest, so near. Else the grade
    is bought, in the shop's scale. What a pad of the shop cuts as stays.
    """
    stock = stock_of(shop, catalogue)
    ways = [catalogue.sanding_methods[name] for name in shop.methods if name in catalogue.sanding_methods]
    pads = {grit for way in ways for grit in catalogue.abrasives[way.abrasive].cuts_as}
    cap = catalogue.caps["ladder"].normal

    def taken(treatment: Treatment, step: TreatmentStep, wanted: str) -> str:
        if wanted in pads:
            return wanted
        near = None
        if step.do == "abrade":  # what is rubbed out with a finer one shines more
            near = stock.nearest_within if treatment.on_bare_wood(step) else stock.next_finer
        return stock.like(wanted) or (near and near(wanted, cap)) or stock.named(wanted)

    return tuple(
        replace(treatment, steps=tuple(_named(treatment, step, taken) for step in treatment.steps))
        for treatment in treatments
    )


def _named(
    treatment: Treatment, step: TreatmentStep, taken: Callable[[Treatment, TreatmentStep, str], str]
) -> TreatmentStep:
    wanted = step.recipe.grit
    if wanted is None or step.do not in ("abrade", "rub-out"):
        return step
    grit = taken(treatment, step, wanted)
    if grit == wanted:
        return step
    recipe = step.recipe.model_copy(update={"grit": grit})
    return replace(step, recipe=recipe, label=step.label.replace(wanted, grit))
