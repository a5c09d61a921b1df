"""Who may ask what: only this machine's own browser, with the word that was printed, and never from another page."""

from __future__ import annotations

import hmac
import secrets
from collections.abc import Awaitable, Callable, Iterable, MutableMapping
from http.cookies import CookieError, SimpleCookie
from typing import Any
from urllib.parse import parse_qs

from finplan.page.phone_guard import PhoneAnswer, answer_phone
from finplan.page.sharing import Phones
from finplan.page.ways import FOR_PHONES, IN_SCOPE, WAYS

Scope = MutableMapping[str, Any]
Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
App = Callable[[Scope, Receive, Send], Awaitable[None]]

MAX_BODY = 4_000_000
"""Bytes of what is sent: a whole piece file, each of its letters written as three."""
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; "
    "connect-src 'self'; form-action 'self'; frame-src 'self'; frame-ancestors 'self'; base-uri 'none'"
)
SHEET_POLICY = (
    "sandbox allow-same-origin; default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; "
    "frame-ancestors 'self'"
)
"""Of the printed sheet, which carries its style and its fonts in it and runs nothing."""
_FREE = ("/static/",)


class TooLongError(Exception):
    """More was sent than may be."""


class Keys:
    """The word of the address, and the cookies that were given for it."""

    def __init__(self, word: str | None = None) -> None:
        self.word = word or secrets.token_urlsafe(24)
        self._cookies: set[str] = set()

    def cookie(self) -> str:
        """Give a new cookie."""
        cookie = secrets.token_urlsafe(24)
        self._cookies.add(cookie)
        return cookie

    def knows(self, cookie: str) -> bool:
        """Return whether a cookie was given here."""
        return any(hmac.compare_digest(cookie.encode(), known.encode()) for known in self._cookies)

    def is_word(self, word: str) -> bool:
        """Return whether it is the word of the address."""
        return hmac.compare_digest(word.encode(), self.word.encode())


class Guard:
    """Refuses what does not come from our own page, before anything else hears of it."""

    def __init__(self, app: App, keys: Keys, hosts: Iterable[str], phones: Phones | None = None) -> None:
        self._app = app
        self._keys = keys
        self._phones = phones
        self._hosts = frozenset(hosts) | (frozenset() if phones is None else {phones.host})
        self.cookie_name = "finplan-" + next(iter(sorted(self._hosts))).rpartition(":")[2]

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request through, or answer it with what is wrong."""
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        if scope["type"] != "http":
            return
        headers = {name.decode("latin-1").lower(): value.decode("latin-1") for name, value in scope["headers"]}
        wrong = self._wrong(scope, headers)
        if wrong is not None:
            await _answer(send, *wrong)
            return
        if self._phones is not None and not _is_this_machine(scope):
            scope[IN_SCOPE] = WAYS if self._phones.may_edit else FOR_PHONES
            told = None if scope["path"].startswith(_FREE) else self._phone(self._phones, scope, headers)
            if told is not None:
                await _answer(send, told.status, told.words, _headers_of(told, self.cookie_name))
                return
            await self._bounded(scope, receive, send)
            return
        if scope["path"] == "/" and (cookie := self._entering(scope)):
            await _answer(send, 303, "", [("location", "/"), ("set-cookie", self._as_cookie(cookie))])
            return
        if not scope["path"].startswith(_FREE) and not self._is_ours(headers):
            words = "open the address that finplan printed when it was started: it has a word in it that lets you in\n"
            await _answer(send, 403, words)
            return
        await self._bounded(scope, receive, send)

    def _wrong(self, scope: Scope, headers: dict[str, str]) -> tuple[int, str] | None:
        """Return the status and the words for what is refused whoever asks."""
        if headers.get("host", "").lower() not in self._hosts:
            return 421, "this is not the machine that was asked for\n"
        if headers.get("sec-fetch-site") in ("cross-site", "same-site") and not _is_visit(scope, headers):
            return 403, "nothing is answered to another page\n"
        origin = headers.get("origin")
        if origin is not None and origin not in {f"http://{host}" for host in self._hosts}:
            return 403, "nothing is answered to another page\n"
        length = headers.get("content-length", "0")
        if not length.isascii() or not length.isdigit():
            return 400, "this is no length\n"
        if int(length) > MAX_BODY:
            return 413, f"more than {MAX_BODY:,} bytes are not taken\n"
        return None

    def _entering(self, scope: Scope) -> str | None:
        words = parse_qs(scope.get("query_string", b"").decode("latin-1"), max_num_fields=5).get("word", [])
        return self._keys.cookie() if scope["method"] == "GET" and any(map(self._keys.is_word, words)) else None

    def _as_cookie(self, cookie: str) -> str:
        return _set_cookie(self.cookie_name, cookie)

    def _phone(self, phones: Phones, scope: Scope, headers: dict[str, str]) -> PhoneAnswer | None:
        query = scope.get("query_string", b"").decode("latin-1")
        return answer_phone(phones, scope["method"], scope["path"], query, self._cookie_in(headers))

    def _is_ours(self, headers: dict[str, str]) -> bool:
        bearer = headers.get("authorization", "")
        if bearer.startswith("Bearer "):
            return self._keys.is_word(bearer.removeprefix("Bearer "))
        cookie = self._cookie_in(headers)
        return cookie is not None and self._keys.knows(cookie)

    def _cookie_in(self, headers: dict[str, str]) -> str | None:
        try:
            cookies = SimpleCookie(headers.get("cookie", ""))
        except CookieError:
            return None
        morsel = cookies.get(self.cookie_name)
        return None if morsel is None else morsel.value

    async def _bounded(self, scope: Scope, receive: Receive, send: Send) -> None:
        taken, begun, over = 0, False, False

        async def bounded() -> Message:
            nonlocal taken, over
            message = await receive()
            taken += len(message.get("body", b""))
            over = taken > MAX_BODY
            if over:
                raise TooLongError
            return message

        async def with_headers(message: Message) -> None:
            nonlocal begun
            if message["type"] == "http.response.start":
                begun = True
                if over:  # whatever the reader of the body made of it
                    message = {**message, "status": 413}
                message = {**message, "headers": [*message["headers"], *_own_headers(message["headers"])]}
            await send(message)

        try:
            await self._app(scope, bounded, with_headers)
        except TooLongError:
            if not begun:
                await _answer(send, 413, f"more than {MAX_BODY:,} bytes are not taken\n")


def _is_visit(scope: Scope, headers: dict[str, str]) -> bool:
    """Return whether somebody follows a link from elsewhere, which shows a page and does nothing."""
    return scope["method"] == "GET" and headers.get("sec-fetch-mode") == "navigate" and scope["path"] in ("/", "/in")


def _is_this_machine(scope: Scope) -> bool:
    """Return whether a request comes over the loopback, which no other machine can use."""
    client = scope.get("client")
    return client is not None and str(client[0]).startswith("127.")


def _set_cookie(name: str, cookie: str) -> str:
    return f"{name}={cookie}; Path=/; HttpOnly; SameSite=Strict"


def _headers_of(told: PhoneAnswer, cookie_name: str) -> list[tuple[str, str]]:
    headers = [] if told.location is None else [("location", told.location)]
    if told.cookie is not None:
        headers.append(("set-cookie", _set_cookie(cookie_name, told.cookie)))
    return [*headers, ("content-type", "text/html; charset=utf-8")] if told.html else headers


def _own_headers(given: Iterable[tuple[bytes, bytes]]) -> list[tuple[bytes, bytes]]:
    there = {name.lower() for name, _ in given}
    headers = {
        "content-security-policy": POLICY,
        "x-content-type-options": "nosniff",
        "referrer-policy": "same-origin",  # with none at all a browser names no origin of its own forms
        "cross-origin-opener-policy": "same-origin",
        "cross-origin-resource-policy": "same-origin",
        "cache-control": "no-store",
    }
    return [(name.encode(), value.encode()) for name, value in headers.items() if name.encode() not in there]


async def _answer(send: Send, status: int, words: str, more: Iterable[tuple[str, str]] = ()) -> None:
    headers = [(name.encode(), value.encode()) for name, value in more]
    headers.append((b"content-length", str(len(words.encode())).encode()))
    if b"content-type" not in dict(headers):
        headers.append((b"content-type", b"text/plain; charset=utf-8"))
    await send({"type": "http.response.start", "status": status, "headers": [*headers, *_own_headers(headers)]})
    await send({"type": "http.response.body", "body": words.encode()})
