"""Letting a phone in: on the network only who types the code on the painter's screen may see the studio.

Off unless ``serve --on-network`` asks for it. The computer itself needs no code. After ten wrong tries nobody
new gets in until the page is started again, so eight digits cannot be guessed.
"""

from __future__ import annotations

import secrets
from ipaddress import ip_address

from fastapi import Request

from halfpan.errors import BadRequest
from halfpan.files.words import say

COOKIE = "halfpan_paired"
WRONG_TRIES = 10


def new_code() -> str:
    """Return a fresh code of eight digits, as two groups of four."""
    digits = f"{secrets.randbelow(10**8):08d}"
    return f"{digits[:4]} {digits[4:]}"


class Pairing:
    """One code, and the devices that have typed it."""

    def __init__(self, code: str) -> None:
        self._code = "".join(code.split())
        self._paired: set[str] = set()
        self._wrong = 0

    def let_in(self, request: Request) -> bool:
        """Say whether this request comes from the computer itself or from a device that is paired."""
        client = request.client.host if request.client else ""
        return _is_loopback(client) or request.cookies.get(COOKIE, "") in self._paired

    def pair(self, typed: str) -> str:
        """Return the cookie for a device that typed the code.

        Raises
        ------
        BadRequest
            When the code is wrong, or too many were.
        """
        if self._wrong >= WRONG_TRIES:
            raise BadRequest(say("pair.locked"))
        if not secrets.compare_digest("".join(typed.split()).encode(), self._code.encode()):
            self._wrong += 1
            raise BadRequest(say("pair.wrong"))
        cookie = secrets.token_urlsafe(32)
        self._paired.add(cookie)
        return cookie


def _is_loopback(host: str) -> bool:
    try:
        return ip_address(host).is_loopback
    except ValueError:
        return host == "testclient"
