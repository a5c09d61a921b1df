"""Old paint: which items may bear some that holds lead, and what is not done to those."""

from __future__ import annotations

from collections.abc import Iterable

from finplan.catalogue import Catalogue, finish_called, is_called
from finplan.inputs import STRIPS, Piece
from finplan.problems import Finding, Where
from finplan.system.faces import OLD_FILM
from finplan.system.treatment import FaceGroup, Treatment

_KEPT = frozenset({"any", "film-forming"})
"""What an old film that is kept is called in the rules of what goes on what: nobody says of which kind it is."""


_MAY_BE = frozenset({"varnish", "oil-varnish", "alkyd-enamel"})
"""What it may well be."""
_TAKEN_OFF = "strip: chemical, and try it where nobody sees; or strip: scrape, by hand"
"""How the old film of something veneered is taken off."""


def old_paint(item: str, groups: Iterable[FaceGroup], piece: Piece, catalogue: Catalogue) -> str | None:
    """Return why an item may bear paint that holds lead; None where it does not.

    A piece may that was built when paint held lead, by the latest year of any country, and what an old film of unknown
    age was taken off; a test of every layer says more than either.

    Parameters
    ----------
    item, groups
        The item and its faces
    piece
        What is said of it: when it was built, and what a test came to
    catalogue
        Where the years are
    """
    if piece.lead_test is not None:
        return "a test that found lead" if piece.lead_test == "lead" else None
    if piece.built is not None:
        until = max(record.until for record in catalogue.old_paint.values())
        return f"built {piece.built}" if piece.built < until else None
    stripped = piece.refinished or any(group.surface == OLD_FILM for group in groups)
    return f"an old film of unknown age ({item})" if stripped else None


def not_on_lead(treatments: Iterable[Treatment], catalogue: Catalogue) -> list[Finding]:
    """Return an error where an old film that may hold lead is to be taken off in a way that is refused for that."""
    findings: dict[Finding, None] = {}
    for treatment in treatments:
        for step in treatment.steps if treatment.old_paint is not None else ():
            if step.recipe.extra is not None and catalogue.extra_steps[step.recipe.extra].not_on_lead:
                wrong = f"'{treatment.named}' may hold lead ({treatment.old_paint}), and is not to {step.label}"
                expected = "strip: chemical, or lead-test: clear where every layer was tested and holds none"
                findings[Finding(("refinish",), wrong, expected)] = None
    return list(findings)


def heat_on_veneer(treatments: Iterable[Treatment], catalogue: Catalogue) -> list[Finding]:
    """Return a warning where something veneered is to get a step that loosens veneer, such as hot air."""
    findings: dict[Finding, None] = {}
    for treatment in treatments:
        for step in treatment.steps:
            harms = step.recipe.extra is not None and catalogue.extra_steps[step.recipe.extra].not_on_veneer
            veneers = sorted({group.veneer_mm for group in step.groups if group.veneer_mm is not None}) if harms else []
            if veneers:
                wrong = (
                    f"'{treatment.named}' is veneered ({veneers[0]:g} mm), and is to {step.label}: glue gives in heat"
                )
                strips = step.recipe.extra is not None and step.recipe.extra.startswith(STRIPS)
                where: Where = ("refinish",) if strips else ("parts", step.groups[0].part)
                expected = _TAKEN_OFF if strips else "leave it out there, and stop the dents with putty: putty-holes"
                findings[Finding(where, wrong, expected, severity="warning", name="heat-on-veneer")] = None
    return list(findings)


def over_kept_film(piece: Piece, treatments: Iterable[Treatment], catalogue: Catalogue) -> list[Finding]:
    """Return an error for each coat that is to go on an old film that is kept, and holds on no film of any kind."""
    findings: dict[Finding, None] = {}
    for treatment in treatments if piece.keep else ():
        coat = treatment.put_on[0]
        called = finish_called(coat.finish, catalogue.finishes[coat.finish])
        for rule in catalogue.compatibility.values():
            if rule.verdict == "refuse" and is_called(rule.over, called) and is_called(rule.under, _KEPT):
                wrong = f"{coat.finish.replace('-', ' ')} over an old film that is kept: {rule.reason}"
                expected = "strip: in the place of keep: true, or a system that ends in a film, such as the old one"
                findings[Finding(("refinish", "keep"), wrong, expected)] = None
            elif rule.verdict == "refuse" and is_called(rule.over, called) and is_called(rule.under, _MAY_BE):
                wrong = (
                    f"{coat.finish.replace('-', ' ')} over an old film that is kept, and may be varnish: {rule.reason}"
                )
                expected = "try it where nobody sees first, or strip: in the place of keep: true"
                findings[Finding(("refinish", "keep"), wrong, expected, severity="warning", name="film-unknown")] = None
    return list(findings)
