"""The screens in a real headless Chromium, at the size of a phone (touch) and of a desk (mouse)."""

from __future__ import annotations

import subprocess
import time
from collections.abc import Callable
from pathlib import Path

from browser_cases import Page, Served


def _lawn(page: Page) -> None:
    """Open the demo lawn of Tennessee by taps."""
    page.tap("open a demo lawn")
    page.tap("tennessee")
    page.wait_for("name a weed that you do not know")


def test_a_walk_by_taps_alone(page: Page, serve: Callable[..., Served]) -> None:
    """From the first screen to an answered look; the trail shows the answer; u takes it back by a tap as well."""
    page.open(serve().address)
    page.wait_for("Walk the lawn")
    _lawn(page)
    page.tap("name a weed that you do not know")
    page.tap("back lawn")
    page.wait_for("Look 1:")
    page.tap("a grass:")
    page.wait_for("Look 2:")
    page.wait_for("plant group: a grass")
    page.tap("u undo")
    page.wait_for("Look 1:")


def test_typing_reaches_the_screens(page: Page, serve: Callable[..., Served]) -> None:
    """Plain words are typed into an input and come back as proposals with the matched phrase."""
    page.open(serve().address)
    _lawn(page)
    page.tap("name a weed that you do not know")
    page.tap("back lawn")
    page.wait_for("Look 1:")
    page.type("t")
    time.sleep(1)
    page.type("three sided stem")
    page.wait_for("three sided stem")


def test_reload_keeps_the_walk(page: Page, serve: Callable[..., Served]) -> None:
    """After a reload the first row goes on with the walk, and the answer is still there."""
    served = serve()
    page.open(served.address)
    _lawn(page)
    page.tap("name a weed that you do not know")
    page.tap("back lawn")
    page.wait_for("Look 1:")
    page.tap("a grass:")
    page.wait_for("Look 2:")
    page.open(served.address)
    page.tap("continue the walk")
    page.wait_for("Look 2:")
    page.wait_for("plant group: a grass")


def test_nothing_outside_this_computer_is_asked(page: Page, serve: Callable[..., Served]) -> None:
    """No font, script or picture from elsewhere; nothing wider than the screen; a phone shows 37 to 50 columns."""
    page.open(serve().address)
    page.wait_for("Walk the lawn")
    assert page.hosts() == {"127.0.0.1"}
    assert not page.is_wider_than_the_screen()
    columns, rows = page.cells()
    assert (37 <= columns <= 50 and rows >= 40) if page.width < 600 else (columns >= 120 and rows >= 35)


def test_closing_the_page_ends_its_process(page: Page, serve: Callable[..., Served], tmp_path: Path) -> None:
    """A page that is left takes its process with it."""
    served = serve()
    page.open(served.address)
    page.wait_for("Walk the lawn")
    assert _children(served) == 1
    page.open("about:blank")
    end = time.monotonic() + 15
    while _children(served) and time.monotonic() < end:
        time.sleep(0.2)
    assert _children(served) == 0


def _children(served: Served) -> int:
    found = subprocess.run(
        ["pgrep", "-f", "-P", str(served.process.pid), "."], capture_output=True, text=True, check=False
    )
    return len(found.stdout.split())
