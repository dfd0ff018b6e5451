"""Who may open the screens in a browser: a one-time token, then a cookie; and which names and pages may ask at all.

On loopback no token is asked: whoever can reach it already works on this computer. Opened to the network, an address
with a token lets in one browser, once; that browser then holds a cookie for as long as the server runs.
"""

from __future__ import annotations

import secrets
from ipaddress import ip_address
from urllib.parse import urlsplit

#: The cookie of a browser that was let in.
COOKIE = "weedkey_door"
#: The part of the address that carries the token.
TOKEN = "token"  # noqa: S105 - the name of a part of the address
_TOKEN_BYTES = 24


class Door:
    """Tokens that were not used yet, and browsers that were let in. Nothing is written to disk."""

    def __init__(self, *, needs_token: bool) -> None:
        self.needs_token = needs_token
        self._tokens: set[str] = set()
        self._inside: set[str] = set()

    def make_token(self) -> str:
        """A token that lets in one browser, once."""
        token = secrets.token_urlsafe(_TOKEN_BYTES)
        self._tokens.add(token)
        return token

    def redeem_or_none(self, token: str) -> str | None:
        """The cookie for a token that is still good; the token is used up. None for any other token."""
        found = _find_equal(token, self._tokens)
        if found is None:
            return None
        self._tokens.discard(found)
        cookie = secrets.token_urlsafe(_TOKEN_BYTES)
        self._inside.add(cookie)
        return cookie

    def lets_in(self, cookie: str | None) -> bool:
        """True for a browser that was let in, and for every browser where no token is asked."""
        return not self.needs_token or (cookie is not None and _find_equal(cookie, self._inside) is not None)


def _find_equal(text: str, known: set[str]) -> str | None:
    """The equal text among the known ones; each comparison takes the same time whatever the letters are."""
    given = text.encode()
    equal = [one for one in known if secrets.compare_digest(given, one.encode())]
    return equal[0] if equal else None


def is_loopback(host: str) -> bool:
    """True if only this computer reaches the address: 127.0.0.1, ::1, localhost."""
    name = host.strip("[]").lower()
    if name == "localhost":
        return True
    try:
        return ip_address(name).is_loopback
    except ValueError:
        return False


def is_known_host(header: str | None, allowed: frozenset[str]) -> bool:
    """True if the Host header is a plain address, localhost, or a name that the owner gave.

    A page of a stranger can make its own name point to this computer; the browser then still sends that name here.
    """
    name = _host_of(f"//{header}") if header else None
    if name is None:
        return False
    if name in allowed or name == "localhost":
        return True
    try:
        ip_address(name)
    except ValueError:
        return False
    return True


def is_same_origin(origin: str | None, host: str | None, public_url: str | None = None) -> bool:
    """True if the page that opens the connection came from this server itself."""
    if not origin or not host:
        return False
    wanted = {host.lower()} | ({urlsplit(public_url).netloc.lower()} if public_url else set())
    parts = urlsplit(origin)
    return parts.scheme in ("http", "https") and parts.netloc.lower() in wanted


def _host_of(address: str) -> str | None:
    try:
        name = urlsplit(address).hostname
    except ValueError:
        return None
    return name.lower() if name else None


def host_of(public_url: str) -> str | None:
    """The name in an address, or None if it has none."""
    return _host_of(public_url)
