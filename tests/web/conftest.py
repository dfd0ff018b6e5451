"""One served copy of the screens a test; one browser a size."""

from __future__ import annotations

import os
import socket
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from browser_cases import CHROMIUM, DRIVER, Page, Served


@pytest.fixture(autouse=True)
def only_when_asked_for(request: pytest.FixtureRequest) -> None:
    """A real server and a real browser need a machine to themselves: run with WEEDKEY_BROWSER=1, one at a time."""
    if {"serve", "page"} & set(request.fixturenames) and not os.environ.get("WEEDKEY_BROWSER"):
        pytest.skip("a real server or browser is started only with WEEDKEY_BROWSER=1")


@pytest.fixture
def serve(tmp_path: Path) -> Iterator[Callable[..., Served]]:
    """Start ``weedkey serve`` with more words; it ends with the test."""
    started: list[Served] = []

    def start(*words: str) -> Served:
        with socket.socket() as probe:
            probe.bind(("127.0.0.1", 0))
            port = probe.getsockname()[1]
        started.append(Served(tmp_path / "home", port, *words))
        return started[-1]

    yield start
    for one in started:
        one.stop()


@pytest.fixture(scope="module", params=[(390, 844), (1280, 800)], ids=["phone", "desk"])
def browser(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Page]:
    """A headless Chromium at the size of a phone and of a desk."""
    if CHROMIUM is None or DRIVER is None:
        pytest.skip("no Chromium with its driver on this machine (Debian: chromium, chromium-driver)")
    one = Page(*request.param, tmp_path_factory.mktemp("profile"))
    yield one
    one.close()


@pytest.fixture
def page(browser: Page, serve: Callable[..., Served]) -> Iterator[Page]:
    """The browser, empty before and after each test."""
    browser.start_over()
    yield browser
    browser.start_over()
