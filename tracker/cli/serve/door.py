"""Who is let in: the first browser that brings the key, by the name that is served, and nobody else."""

from __future__ import annotations

import re
import secrets
from hmac import compare_digest
from typing import NamedTuple

NO_KEY = "This address lacks its key. Open the whole address that lastcoat serve shows where it was started."
SPENT = (
    "This address has been used, and works only once. For a new one, end lastcoat serve with Ctrl-C and"
    " start it again. What was logged or half typed is kept."
)
OTHER_NAME = "Nothing is served under this name. Open the address that lastcoat serve shows."
OTHER_PAGE = "Only the page of lastcoat serve itself may ask for this."
AHEAD = "This address opens when you go there yourself, not ahead of it."

_HOST = re.compile(r"(\[[0-9a-f:.]+\]|[0-9a-z._-]+)(:\d{1,5})?")
_LITERAL = re.compile(r"\[[0-9a-f:.]+\]|\d{1,3}(\.\d{1,3}){3}")


class Names(NamedTuple):
    """What a browser may call the served machine."""

    said: frozenset[str]
    """Host names and addresses in small letters, IPv6 in square brackets."""
    by_any_number: bool = False
    """Whether every numeric address is ours too; a page that leads a name astray cannot have one."""

    def hold(self, host: str) -> bool:
        """Whether a Host header (RFC 9110, 7.2) is one of them; its port does not matter."""
        found = _HOST.fullmatch(host.lower())
        if found is None:
            return False
        return found[1] in self.said or (self.by_any_number and _LITERAL.fullmatch(found[1]) is not None)


class Asked(NamedTuple):
    """What of a request decides whether it is let in."""

    host: str
    is_page: bool = False
    """Whether it is a GET of the page, the one request that may bring the key."""
    is_socket: bool = False
    origin: str | None = None
    key: str = ""
    held: str = ""
    """The pass that the browser holds: its cookie."""
    is_ahead: bool = False
    """Whether the browser fetches it before a person asked for it."""


class Verdict(NamedTuple):
    """Let in when there is no refusal; a pass is to be handed over when there is one."""

    refusal: str = ""
    new_pass: str = ""


class Door:
    """Keeps the key, whether it is spent, and the pass of the browser that spent it."""

    def __init__(self, names: Names, key: str) -> None:
        self.names = names
        self._key = key
        self._pass = ""

    def judge(self, asked: Asked) -> Verdict:
        """Whether a request is let in. The key opens once; from then on only its browser's pass does.

        The checks of name and origin are those against DNS rebinding and requests from foreign pages
        (OWASP, Cross-Site Request Forgery Prevention and HTML5 Security cheat sheets; from memory).
        """
        if not self.names.hold(asked.host):
            return Verdict(OTHER_NAME)
        if asked.origin is None:
            if asked.is_socket:
                return Verdict(OTHER_PAGE)
        elif asked.origin.lower() != f"http://{asked.host.lower()}":
            return Verdict(OTHER_PAGE)
        if self._pass and _same(asked.held, self._pass):
            return Verdict()
        return self._try_key(asked)

    def _try_key(self, asked: Asked) -> Verdict:
        if not asked.is_page or not _same(asked.key, self._key):
            return Verdict(NO_KEY)
        if self._pass:
            return Verdict(SPENT)
        if asked.is_ahead:
            return Verdict(AHEAD)
        self._pass = secrets.token_urlsafe()
        return Verdict(new_pass=self._pass)


def _same(said: str, meant: str) -> bool:
    return compare_digest(said.encode("utf-8", "replace"), meant.encode())
