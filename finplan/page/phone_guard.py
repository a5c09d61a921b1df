"""What a phone of the shop's network may ask: to be let in by the code, and then to tick and to read."""

from __future__ import annotations

import re
from dataclasses import dataclass
from html import escape
from urllib.parse import parse_qs

from finplan.page.sharing import Phones

_BENCH = re.compile(r"/bench|/piece/[^/]+/(bench(/(news|tick|undo|replan|begin|fault))?|print|sheet)")
"""The pages on which a phone ticks and reads."""
_OWN = ("/share", "/share/turn-out", "/api", "/openapi.json", "/docs")
"""What is for whoever started the server alone, whatever phones may."""


@dataclass(frozen=True, slots=True)
class PhoneAnswer:
    """What a phone is answered before any page hears of it."""

    status: int
    words: str
    location: str | None = None
    cookie: str | None = None
    html: bool = False


def answer_phone(phones: Phones, method: str, path: str, query: str, cookie: str | None) -> PhoneAnswer | None:
    """Return what a phone is answered; None where a page answers.

    Parameters
    ----------
    phones
        Those that were let in, and what they may
    method, path, query
        Of what it asks
    cookie
        Its own; None where it has none

    Notes
    -----
    The address of the code shows a button, and only the button uses the word up: programs that look at an address
    before a person does would use it up otherwise.
    """
    known = cookie is not None and phones.knows(cookie)
    if path == "/in":
        if known:
            return PhoneAnswer(303, "", location="/bench")
        word = next(iter(parse_qs(query, max_num_fields=5).get("word", [])), "")
        if method != "POST":
            return PhoneAnswer(200, _door(word), html=True)
        let_in = phones.enter(word)
        if let_in is None:
            return PhoneAnswer(403, "this code was used before, or all phones were turned out: scan the new one\n")
        return PhoneAnswer(303, "", location="/bench", cookie=let_in)
    if not known:
        return PhoneAnswer(403, "scan the code that finplan shows on the machine where it was started\n")
    if path == "/" and not phones.may_edit:
        return PhoneAnswer(303, "", location="/bench")
    if any(path == own or path.startswith(f"{own}/") for own in _OWN):
        return PhoneAnswer(403, "this is for the machine where finplan was started\n")
    if not phones.may_edit and _BENCH.fullmatch(path) is None:
        return PhoneAnswer(403, "a phone ticks and reads; pieces are edited on the machine where finplan was started\n")
    return None


def _door(word: str) -> str:
    return (
        '<!DOCTYPE html><html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1"><title>finplan</title>'
        '<link rel="stylesheet" href="/static/page.css"><link rel="stylesheet" href="/static/bench.css"></head>'
        '<body><main class="bench"><h1>At the bench</h1>'
        f'<form method="post" action="/in?word={escape(word, quote=True)}">'
        '<button class="do">Let this phone in</button></form>'
        "<p>It may tick what is done and read the plans of this workshop, until all phones are turned out.</p>"
        "</main></body></html>"
    )
