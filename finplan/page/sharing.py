"""Phones of the shop's own network: let in by a code that works once, and turned out all at once."""

from __future__ import annotations

import hashlib
import hmac
import ipaddress
import secrets
import socket
import threading
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from io import StringIO

import segno

from finplan.problems import NotPossibleError, shown

_NOWHERE = ("192.0.2.1", 9)
"""An address of RFC 5737 that is nobody's: a datagram socket turned to it sends nothing, and tells whence it would."""


@dataclass
class Phones:
    """The phones that were let in, and the word that lets in the next one."""

    address: str
    """Of the server in the shop's network, without a word: ``http://192.168.1.20:8765``."""
    now: Callable[[], datetime]
    may_edit: bool = False
    """Whether they may do all that the page can, instead of ticking and reading."""
    changed: Callable[[], None] = lambda: None
    """Told when one was let in, or all were turned out."""
    word: str = field(default_factory=lambda: secrets.token_urlsafe(18))
    let_in: dict[str, datetime] = field(default_factory=dict)
    """When each was let in, by its cookie."""
    _one: threading.Lock = field(default_factory=threading.Lock)

    @property
    def host(self) -> str:
        """The host and port by which they ask."""
        return self.address.removeprefix("http://")

    @property
    def link(self) -> str:
        """What the code says."""
        return f"{self.address}/in?word={self.word}"

    def enter(self, word: str) -> str | None:
        """Let a phone in by the word and return its cookie, and make another word; None where that is not the word."""
        with self._one:
            if not hmac.compare_digest(word.encode(), self.word.encode()):
                return None
            self.word = secrets.token_urlsafe(18)
            cookie = secrets.token_urlsafe(24)
            self.let_in[cookie] = self.now()
        self.changed()
        return cookie

    def knows(self, cookie: str) -> bool:
        """Return whether a cookie is that of a phone that was let in."""
        with self._one:
            return any(hmac.compare_digest(cookie.encode(), known.encode()) for known in self.let_in)

    def each(self) -> list[tuple[str, datetime]]:
        """Return every phone that is let in by a name that lets nobody in, with when it was."""
        with self._one:
            return [(_named(cookie), at) for cookie, at in self.let_in.items()]

    def turn_out(self, phone: str | None = None) -> None:
        """Turn one phone out by its name, or all; the code of before works no more."""
        with self._one:
            for cookie in list(self.let_in):
                if phone is None or _named(cookie) == phone:
                    del self.let_in[cookie]
            self.word = secrets.token_urlsafe(18)
        self.changed()

    def picture(self) -> str:
        """Return the code as SVG, black on white whatever the page is."""
        code = segno.make(self.link, micro=False)
        return str(code.svg_inline(scale=6, border=4, dark="#000", light="#fff", omitsize=True))


def _named(cookie: str) -> str:
    return hashlib.sha256(cookie.encode()).hexdigest()[:12]


def code_lines(link: str) -> str:
    """Return the code of an address for a terminal, in half blocks."""
    out = StringIO()
    segno.make(link, micro=False).terminal(out, border=2, compact=True)
    return out.getvalue()


def shared_address(asked: str | None) -> str:
    """Return the address of this machine in the shop's network.

    Parameters
    ----------
    asked
        That address, where it is known; None to look for it

    Raises
    ------
    NotPossibleError
        There is none, or it is no address of a local network: the page is not for the whole world.
    """
    own = _own_address() if asked is None else asked
    try:
        address = ipaddress.IPv4Address(own)
    except ValueError:
        msg = f"{shown(own)} is no address of this machine; expected one such as 192.168.1.20"
        raise NotPossibleError(msg) from None
    whole_network = address.is_unspecified or address.is_multicast or address.is_reserved
    if address.is_loopback or whole_network or not address.is_private:
        msg = (
            f"{address} is no address in a local network: this machine is in none, or in a public one, in which the "
            "page is not shared; --share-at names another of its addresses"
        )
        raise NotPossibleError(msg)
    return str(address)


def _own_address() -> str:
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as socket_:
        try:
            socket_.connect(_NOWHERE)
            return str(socket_.getsockname()[0])
        except OSError:
            return "127.0.0.1"
