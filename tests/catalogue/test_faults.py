"""What the catalogue says of faults: every fault in every finish, and against what was published of them."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from finplan.catalogue import bundled_catalogue, fault_called

CATALOGUE = bundled_catalogue()
FAULTS, FINISHES, CAUSES = CATALOGUE.faults, CATALOGUE.finishes, CATALOGUE.fault_causes

PUBLISHED = [
    # fault, cause, finish, source
    ("runs", "thicker", "oil-varnish", "TM 43-0139 5-30: application of too much material (read)"),
    ("runs", "thinned", "oil-varnish", "TM 43-0139 5-30: thinned excessively (read)"),
    ("runs", "upright", "nitrocellulose-lacquer", "TM 43-0139 5-30: usually on a sloping or vertical surface (read)"),
    ("runs", "brush", "alkyd-enamel", "TM 43-0139 5-30: incomplete brushing or a stiff brush (read)"),
    ("tacky", "colder", "alkyd-enamel", "TM 43-0139 5-31: cold weather retards drying (read)"),
    ("tacky", "old-tin", "oil-varnish", "TM 43-0139 5-31: old thinner, inferior driers (read)"),
    ("blushing", "damper", "nitrocellulose-lacquer", "TM 43-0139 5-23: condensation of moisture on the film (read)"),
    ("cracking", "over-wet", "alkyd-enamel", "TM 43-0139 5-20: over a coat not thoroughly dried (read)"),
    ("cracking", "hard-over-soft", "alkyd-enamel", "TM 43-0139 5-20: too soft an undercoat (read)"),
    (
        "bleeding",
        "over-colour",
        "oil-varnish",
        "TM 43-0139 5-21: old pigment partly dissolved into the new coat (read)",
    ),
    ("bleeding", "resinous", "alkyd-enamel", "TM 43-0139 before 5-30: shellac on wood knots (read)"),
    ("orange-peel", "gun", "nitrocellulose-lacquer", "TM 43-0139, faults of spraying: distance, atomising (read)"),
    ("orange-peel", "drier", "alkyd-enamel", "TM 43-0139, faults of spraying: low humidity with synthetics (read)"),
    ("peeling", "window-missed", "polyurethane-2k", "MIL-HDBK-1110 11.4.2.3: cured too hard to bond (read)"),
    ("peeling", "silicone", "oil-varnish", "MIL-HDBK-1110 11.4.2.3: a contaminated surface (read)"),
    ("cratering", "silicone", "catalysed-lacquer", "MIL-HDBK-1110 11.4.2.1: on contaminated surfaces (read)"),
]


@pytest.mark.parametrize(("fault", "cause", "finish", "source"), PUBLISHED)
def test_a_cause_that_was_published_is_one_here(fault: str, cause: str, finish: str, source: str) -> None:
    found = {one.cause for one in FAULTS[fault].causes_in(finish, FINISHES[finish])}
    assert cause in found, source


def _grid() -> Iterator[tuple[str, str]]:
    return ((fault, finish) for fault in FAULTS for finish in FINISHES)


def test_every_fault_has_an_answer_in_every_finish_or_why_it_cannot_occur() -> None:
    lacking = []
    for fault, finish in _grid():
        record, of = FAULTS[fault], FINISHES[finish]
        ruled_out, answer = record.ruled_out(finish, of), record.answer(finish, of)
        told = answer is not None and bool(record.causes_in(finish, of))
        if told == (ruled_out is not None):
            lacking.append((fault, finish))
    assert lacking == []


def test_no_wording_is_empty_or_a_fragment() -> None:
    short = []
    for name, fault in FAULTS.items():
        sentences = [fault.looks, *fault.unlike.values()]
        sentences += [text for one in fault.answers for text in (one.now, one.do)]
        short += [(name, text) for text in sentences if len(text) < 12 or not text[0].isupper() or text[-1] not in ".?"]
        short += [(name, one.because) for one in fault.cannot if len(one.because) < 12 or one.because[-1] == "."]
    for name, cause in CAUSES.items():
        short += [(name, text) for text in (cause.look, cause.avoid) if len(text) < 12 or text[-1] not in ".?"]
    assert short == []


def test_every_fault_is_told_from_a_neighbour_and_every_answer_and_reason_is_used() -> None:
    assert [name for name, fault in FAULTS.items() if not fault.unlike or name in fault.unlike] == []
    used = {id(FAULTS[fault].answer(finish, FINISHES[finish])) for fault, finish in _grid()}
    used |= {id(FAULTS[fault].ruled_out(finish, FINISHES[finish])) for fault, finish in _grid()}
    idle = [(name, one.finishes) for name, fault in FAULTS.items() for one in fault.answers if id(one) not in used]
    idle += [(name, one.finishes) for name, fault in FAULTS.items() for one in fault.cannot if id(one) not in used]
    assert idle == []


def test_names_and_aliases_mean_one_fault() -> None:
    called = [word for name, fault in FAULTS.items() for word in (name, *fault.aliases)]
    assert sorted(called) == sorted(set(called))


def test_every_cause_belongs_to_a_fault() -> None:
    assert set(CAUSES) == {cause.cause for fault in FAULTS.values() for cause in fault.causes}


def test_a_repair_ends_in_a_sound_surface() -> None:
    """What is scraped or cut through is coated again, and what is coated is not scraped after."""
    for fault, finish in _grid():
        answer = FAULTS[fault].answer(finish, FINISHES[finish])
        if answer is None:
            continue
        deeds = [step.do for step in answer.steps if step.only != "not-last"]
        assert "coat" in deeds or "coats" in deeds or fault == "tacky", (fault, finish)
        last_coat = max((at for at, deed in enumerate(deeds) if deed in ("coat", "coats")), default=len(deeds))
        assert {"scrape", "wipe"}.isdisjoint(deeds[last_coat:]), (fault, finish)
        assert all(step.grit for step in answer.steps if step.do == "abrade"), (fault, finish)
        assert all(step.grit is None for step in answer.steps if step.do != "abrade"), (fault, finish)


def test_no_oil_is_put_over_and_no_alcohol_on_what_it_would_spoil() -> None:
    """White spirit dissolves wax and oil, not shellac; sound shellac is not wiped with its own thinner."""
    for fault, finish in _grid():
        answer = FAULTS[fault].answer(finish, FINISHES[finish])
        if answer is None or "melts-in" not in fault_called(finish, FINISHES[finish]) or fault == "tacky":
            continue
        assert all(step.solvent == "white-spirit" for step in answer.steps if step.do == "wipe"), (fault, finish)


def test_terms_are_said_to_be_recalled() -> None:
    with_term = [fault for fault in FAULTS.values() if fault.term]
    assert len(with_term) >= 12
    assert {fault.source_of("term") for fault in with_term} == {"iso-4618"}
    assert CATALOGUE.sources["iso-4618"].rests == "memory"
