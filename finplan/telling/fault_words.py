"""What is wrong with a coat, in words: causes with their figures, what rules others out, what to do and from when."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from finplan.catalogue import FaultAnswer, PlanFact, RepairStep
from finplan.climate import STANDARD
from finplan.faults import CauseHere, Diagnosis, Evidence, Scene
from finplan.ledger import Tick
from finplan.listing import listed
from finplan.moments import not_before, show_moment
from finplan.quantity import Units
from finplan.showing import capital, plain, show_duration, show_share, show_temperature, show_volume

_STAGE = {"recoat": "fit for another coat", "handle": "fit to handle", "cure": "cured"}


def fault_head(told: Diagnosis) -> str:
    """Return which fault of which coat it is, with the term of the standard vocabulary where that is another."""
    record, scene = told.record, told.scene
    term = record.term
    known = f" (ISO 4618: {term})" if term and term.lower() not in record.title.lower() else ""
    return f"{record.title}{known}: {coat_words(scene)}"


def coat_words(scene: Scene) -> str:
    """Return which coat is looked at, and when it was put on."""
    at = "" if scene.operation in scene.coats else f"{scene.operation.label} on "
    words = f"{scene.treatment.item}, {at}{scene.coats[0].label} of {_finish(scene)}"
    if scene.put_on is None:
        return words
    ended = scene.put_on[1].astimezone(scene.plan.shop.time_zone)
    return f"{words}, {'put on' if scene.is_on else 'not ticked, by the plan put on'} {show_moment(ended)}"


def unlike_words(told: Diagnosis) -> Iterator[str]:
    """Give how it is told from faults that look like it."""
    faults = told.scene.catalogue.faults
    for name, words in told.record.unlike.items():
        yield f"{faults[name].title}: {words}"


def cannot_words(told: Diagnosis) -> str:
    """Return why a fault cannot occur in its finish; empty where it can."""
    if told.cannot is None:
        return ""
    title = told.scene.finish.title
    return f"Cannot occur in {title[:1].lower() + title[1:]}, because {told.cannot.because}."


def found_words(cause: CauseHere, scene: Scene) -> str:
    """Return a cause that plan or record bears out, with its figures."""
    return _with_why(cause, scene)


def look_words(cause: CauseHere, scene: Scene) -> str:
    """Return a cause of which neither can say, and how it is found out."""
    why = _why(cause.evidence, scene)
    known = f" {capital(why)}." if why else ""
    return f"{cause.record.title}.{known} {cause.record.look}"


def excluded_words(cause: CauseHere, scene: Scene) -> str:
    """Return a cause that is ruled out, and by what."""
    return _with_why(cause, scene)


def answer_lines(told: Diagnosis) -> list[tuple[str, str]]:
    """Return what to do: at once, from when, then; each with what it is headed by."""
    answer = told.answer
    if answer is None:
        return []
    return [("Now", answer.now), ("Wait", wait_words(told, answer)), ("Then", answer.do)]


def wait_words(told: Diagnosis, answer: FaultAnswer) -> str:
    """Return until when it is left alone."""
    thick = f" where it is {plain(answer.times_as_thick)} times as thick" if answer.times_as_thick > 1 else ""
    stage = f"until it is {_STAGE[answer.until]}{thick}"
    if told.worked_from is None:
        return capital(f"{stage}.")
    at = told.worked_from.astimezone(told.scene.plan.shop.time_zone)
    if at <= told.scene.known.now:
        return f"No longer: by the air it is so far since {show_moment(not_before(at))}; try with a thumbnail."
    return capital(f"{stage}, by the air not before {show_moment(not_before(at))}.")


def repair_step_words(step: RepairStep, scene: Scene) -> str:
    """Return one step of a repair: what is done, where, with what."""
    coat = scene.coats[0].label.partition(",")[0]
    deed = {
        "scrape": "scrape",
        "wipe": f"wipe with {_solvent(step, scene)}",
        "abrade": f"abrade {step.grit}",
        "coat": f"{coat} again, {_finish(scene)}",
        "coats": f"its coats again, from the first to {coat}",
    }[step.do]
    where = "the whole item" if step.on == "item" else "the place"
    only = {"always": "", "last": ", where no other coat follows", "not-last": ", where another coat follows"}[
        step.only
    ]
    wait = "" if step.wait_h is None else f"; then wait {show_duration(step.wait_h.typical)}"
    note = f"; {step.note[:1].lower() + step.note[1:]}" if step.note else ""
    return f"{deed}, {where}{only}{note}{wait}"


def _finish(scene: Scene) -> str:
    return scene.finish.title.lower().partition(",")[0]


def _solvent(step: RepairStep, scene: Scene) -> str:
    if step.solvent is not None:
        return scene.catalogue.solvents[step.solvent].title.partition(" (")[0].lower()
    return scene.finish.thinner or scene.finish.clean_up


# --- the figures ----------------------------------------------------------------------------------------------------


def _with_why(cause: CauseHere, scene: Scene) -> str:
    why = _why(cause.evidence, scene)
    return f"{cause.record.title}: {why}." if why else f"{cause.record.title}."


def _why(evidence: Evidence, scene: Scene) -> str:
    words = _WORDS.get(evidence.fact)
    return "" if words is None else words(evidence, scene)


def _units(scene: Scene) -> Units:
    return scene.plan.units


def _by(evidence: Evidence, noted: Tick | None) -> str:
    if evidence.recorded:
        return "as measured then" if noted is None else "as noted"
    return "by the shop file, for no reading was noted"


def _warmth(bound: str) -> Callable[[Evidence, Scene], str]:
    def words(evidence: Evidence, scene: Scene) -> str:
        if evidence.value is None or evidence.limit is None:
            return "nothing says how warm it was"
        was, asked = (show_temperature(value, _units(scene)) for value in (evidence.value, evidence.limit))
        return f"it was put on at {was}, {_by(evidence, scene.reading)}; the finish wants {asked} {bound}"

    return words


def _damp(bound: str) -> Callable[[Evidence, Scene], str]:
    def words(evidence: Evidence, scene: Scene) -> str:
        if evidence.value is None or evidence.limit is None:
            return "nothing says how damp it was"
        was, asked = plain(evidence.value), plain(evidence.limit)
        by = _by(evidence, scene.damp_reading)
        return f"it was put on at {was} % humidity, {by}; the finish wants {asked} % {bound}"

    return words


def _cold_while_drying(seen: Evidence, scene: Scene) -> str:
    if seen.value is None or seen.limit is None:
        return "nothing says how cold it got"
    was, asked = (show_temperature(value, _units(scene)) for value in (seen.value, seen.limit))
    by = "as measured" if seen.recorded else "by the shop file"
    film = "its film needs" if scene.finish.film is not None else "it wants"
    return f"the coldest while it dried was {was}, {by}; {film} {asked} or more"


def _thicker(seen: Evidence, scene: Scene) -> str:
    if seen.value is None:
        if seen.limit is None:
            return ""
        return f"what was used was not noted; {show_volume(seen.limit, _units(scene))} was planned"
    used = show_volume(seen.value, _units(scene))
    if seen.limit is None:
        return f"{used} was used"
    limit = show_volume(seen.limit, _units(scene))
    if seen.standing == "found":
        return f"{used} was used, as noted; it was to take {limit} at most"
    return f"{used} was used, as noted; {limit} was planned"


def _dried(coat: str, after: str) -> Callable[[Evidence, Scene], str]:
    def words(evidence: Evidence, scene: Scene) -> str:
        if evidence.limit is None:
            return "it is the first coat"
        standard = show_temperature(STANDARD.temperature_c, _units(scene))
        asked = f"{show_duration(evidence.limit)} {'is' if evidence.standing != 'found' else 'was'} asked"
        if evidence.value is None:
            return (
                f"{asked} before {after}"
                if not evidence.names
                else f"the record does not tell when each was done; {asked}"
            )
        name = evidence.names[0] if evidence.names else ""
        lay = "" if evidence.clock_h is None else f"{show_duration(evidence.clock_h)}, worth "
        return f"{coat.format(name=name)} {lay}{show_duration(evidence.value)} of drying at {standard}; {asked}"

    return words


def _window(seen: Evidence, _: Scene) -> str:
    if seen.limit is None:
        return "nothing below it gets too hard"
    if seen.value is None:
        return (
            f"the window of {seen.names[0]} is {show_duration(seen.limit)}; the record does not tell when each was done"
        )
    waited = f"{seen.names[0]} waited {show_duration(max(seen.value, 0.0))}; its window is {show_duration(seen.limit)}"
    if seen.standing == "found":
        return f"{waited}, and nothing abraded it between"
    return f"{waited}" if len(seen.names) < 2 else f"{seen.names[1]} came between"


def _not_abraded(seen: Evidence, _: Scene) -> str:
    if not seen.names:
        return "it is the first coat"
    if seen.standing == "found":
        return _not_ticked(seen)
    if seen.standing == "excluded" and seen.recorded:
        return f"{listed(seen.names)} was done"
    if seen.value is not None:
        return f"{seen.names[0]} takes another coat as it is"
    if seen.standing == "excluded":
        return f"{listed(seen.names)} is planned between"
    return f"no abrading is planned on {seen.names[0]}"


def _skipped(seen: Evidence, _: Scene) -> str:
    if seen.standing == "found":
        return _not_ticked(seen)
    return "every step before it is ticked" if seen.standing == "excluded" else "the record does not say"


def _not_ticked(seen: Evidence) -> str:
    return f"{listed(seen.names)} {'is' if len(seen.names) == 1 else 'are'} not ticked"


def _sanded_beside(seen: Evidence, _: Scene) -> str:
    if seen.limit is None:
        return "wood is sanded in another room, or its dust is drawn off"
    if seen.standing == "found" and seen.value is not None:
        ended = f"{show_duration(seen.value)} before" if seen.value > 0 else "while it went on or was wet"
        return f"{seen.names[0]} was {ended}; dust settles in {show_duration(seen.limit)}"
    return f"no sanding of this job was within {show_duration(seen.limit)} before it; of other work nothing is known"


def _sanded_after(seen: Evidence, _: Scene) -> str:
    return f"{seen.names[0]} was done on it" if seen.names else "nothing has been sanded on it"


def _sprayed(seen: Evidence, scene: Scene) -> str:
    title = scene.catalogue.methods[seen.names[0]].title.lower()
    return f"it is put on by {title}"


def _wiped(seen: Evidence, _: Scene) -> str:
    if seen.value is None or seen.limit is None:
        return "nothing of it is wiped off"
    return f"the surplus comes off {show_duration(seen.value)} to {show_duration(seen.limit)} after it is on"


def _upright(seen: Evidence, _: Scene) -> str:
    if seen.standing == "excluded":
        return "it was coated lying flat, one side at a time"
    return f"it has faces that stand upright or curve: {listed(seen.names)}"


def _end_grain(seen: Evidence, _: Scene) -> str:
    return f"{show_share(seen.value or 0.0)} of the area drinks like end grain"


def _large(seen: Evidence, scene: Scene) -> str:
    if seen.value is None or seen.limit is None:
        return ""
    standard = show_temperature(STANDARD.temperature_c, _units(scene))
    return f"it takes {show_duration(seen.value)} to put on, and stays wet {show_duration(seen.limit)} at {standard}"


def _mixed(seen: Evidence, _: Scene) -> str:
    if seen.standing == "excluded":
        return "it comes ready to use"
    return "" if seen.limit is None else f"the mix can be worked {show_duration(seen.limit)}"


def _thinned(seen: Evidence, _: Scene) -> str:
    if seen.standing == "excluded":
        return "it is not thinned"
    return f"{plain(seen.value)} % is planned" if seen.value else "the plan does not thin it"


def _under(seen: Evidence, _: Scene) -> str:
    return f"under it lies {listed(seen.names)}" if seen.names else "nothing of that lies under it"


def _of_timber(says: str, denies: str) -> Callable[[Evidence, Scene], str]:
    def words(evidence: Evidence, _: Scene) -> str:
        return f"{listed(evidence.names)} {says if evidence.standing == 'found' else denies}"

    return words


def _water(seen: Evidence, _: Scene) -> str:
    if seen.standing == "found":
        return "water went on bare wood whose grain was not raised first"
    return "it is not the first coat, or the grain was raised before it, or there is no water in it"


def _veneer(seen: Evidence, _: Scene) -> str:
    return "the wood is solid" if seen.value is None else f"the veneer is {plain(seen.value)} mm thick"


_WORDS: Mapping[PlanFact, Callable[[Evidence, Scene], str]] = {
    "colder": _warmth("or more"),
    "warmer": _warmth("at most"),
    "damper": _damp("at most"),
    "drier": _damp("or more"),
    "cold-while-drying": _cold_while_drying,
    "thicker": _thicker,
    "over-wet": _dried("{name} lay", "it"),
    "worked-wet": _dried("it was worked on ({name}) after", "work on it"),
    "window-missed": _window,
    "not-abraded": _not_abraded,
    "skipped": _skipped,
    "sanded-beside": _sanded_beside,
    "sanded-after": _sanded_after,
    "sprayed": _sprayed,
    "wiped-off": _wiped,
    "upright": _upright,
    "end-grain": _end_grain,
    "large": _large,
    "mixed": _mixed,
    "thinned": _thinned,
    "over-oil": _under,
    "over-colour": _under,
    "over-waxed": _under,
    "tannin": _of_timber("is rich in tannin", "holds little tannin"),
    "resinous": _of_timber("is resinous", "is not resinous"),
    "oily-timber": _of_timber("is oily", "is not oily"),
    "blotching": _of_timber("blotches", "does not blotch"),
    "open-pores": _of_timber("has open pores", "has no open pores"),
    "water-on-bare": _water,
    "veneer": _veneer,
}
"""What is said of a fact, whatever it does to the cause."""
