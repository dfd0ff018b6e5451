"""Who may open the screens: one-time tokens, cookies, names of the host, pages of strangers."""

from __future__ import annotations

import pytest

from weedkey.web.access import Door, host_of, is_known_host, is_loopback, is_same_origin


def test_a_token_lets_in_one_browser_once() -> None:
    """The first use gives a cookie; the second use of the same token gives nothing."""
    door = Door(needs_token=True)
    token = door.make_token()
    cookie = door.redeem_or_none(token)
    assert cookie is not None
    assert door.redeem_or_none(token) is None
    assert door.lets_in(cookie)


@pytest.mark.parametrize("cookie", [None, "", "guess", "ä"])
def test_nobody_comes_in_without_a_cookie(cookie: str | None) -> None:
    """No cookie, an empty one, a guessed one: all stay outside."""
    door = Door(needs_token=True)
    door.redeem_or_none(door.make_token())
    assert not door.lets_in(cookie)


def test_a_token_is_no_cookie_and_a_cookie_no_token() -> None:
    """What stands in the address must not work as what the browser keeps."""
    door = Door(needs_token=True)
    unused, used = door.make_token(), door.make_token()
    cookie = door.redeem_or_none(used)
    assert cookie is not None
    assert not door.lets_in(unused)
    assert not door.lets_in(used)
    assert door.redeem_or_none(cookie) is None


def test_tokens_are_long_and_never_the_same() -> None:
    """At least 128 bits, as RFC 6819 section 5.1.4.2.2 asks of handles that must not be guessed (160 recommended)."""
    door = Door(needs_token=True)
    tokens = {door.make_token() for _ in range(200)}
    assert len(tokens) == 200
    assert min(len(token) for token in tokens) * 6 >= 160


def test_on_loopback_no_token_is_asked() -> None:
    """Whoever reaches loopback sits at this computer already."""
    assert Door(needs_token=False).lets_in(None)


@pytest.mark.parametrize(
    ("host", "loopback"),
    [
        # RFC 1122 section 3.2.1.3 (127/8), RFC 4291 section 2.5.3 (::1), RFC 6761 section 6.3 (localhost)
        ("127.0.0.1", True),
        ("127.9.9.9", True),
        ("::1", True),
        ("[::1]", True),
        ("localhost", True),
        ("0.0.0.0", False),  # noqa: S104 - that it is not taken for loopback is the point
        ("192.168.1.20", False),
        ("example.org", False),
        ("127.0.0.1.example.org", False),
    ],
)
def test_what_counts_as_this_computer_only(host: str, loopback: bool) -> None:
    """Everything else is the network, and asks for a token."""
    assert is_loopback(host) is loopback


@pytest.mark.parametrize(
    ("header", "known"),
    [
        ("127.0.0.1:8000", True),
        ("localhost:8000", True),
        ("192.168.1.20:8000", True),
        ("[fe80::1]:8000", True),
        ("lawn.example.org", True),
        ("stranger.example.net:8000", False),
        ("127.0.0.1.stranger.example.net", False),
        ("", False),
        (None, False),
        ("[", False),
    ],
)
def test_a_name_of_a_stranger_is_refused(header: str | None, known: bool) -> None:
    """A strange name that was made to point here is still a strange name."""
    assert is_known_host(header, frozenset({"lawn.example.org"})) is known


@pytest.mark.parametrize(
    ("origin", "host", "same"),
    [
        ("http://127.0.0.1:8000", "127.0.0.1:8000", True),
        ("https://lawn.example.org", "10.0.0.5:8000", True),
        ("http://127.0.0.1:9000", "127.0.0.1:8000", False),
        ("http://stranger.example.net", "127.0.0.1:8000", False),
        ("null", "127.0.0.1:8000", False),
        (None, "127.0.0.1:8000", False),
        ("file://127.0.0.1:8000", "127.0.0.1:8000", False),
    ],
)
def test_only_our_own_page_may_connect(origin: str | None, host: str, same: bool) -> None:
    """Scheme, name and port of the page are compared (RFC 6454: an origin is all three)."""
    assert is_same_origin(origin, host, "https://lawn.example.org") is same


def test_an_address_without_a_name_has_none() -> None:
    """Broken addresses give None instead of an error."""
    assert host_of("http://") is None
    assert host_of("http://[") is None
    assert host_of("https://Lawn.Example.org:1") == "lawn.example.org"
