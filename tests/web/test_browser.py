"""The screens in a real headless Chromium, at the size of a phone (touch) and of a desk (mouse)."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest
from browser_cases import Page, Served


def _lawn(page: Page) -> None:
    """Open the demo lawn of Tennessee by taps."""
    page.tap("open a demo lawn")
    page.tap("tennessee")
    page.wait_for("name a weed that you do not know")
    page.wait_for("zoysiagrass · 3 June 2026")  # the lawn line


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


def test_a_plan_by_taps_alone(page: Page, serve: Callable[..., Served]) -> None:
    """The operator's sheet is read to its next page and left again without a key."""
    page.open(serve().address)
    _lawn(page)
    page.tap("season: the plan of the year")
    page.tap("the operator's sheet: what")
    first = page.wait_for("The lawn as a whole")
    page.tap("more")
    page.wait_until(lambda lines: "The lawn as a whole" not in "\n".join(lines))
    assert page.screen() != first
    page.tap("esc back")
    page.wait_for("visits in the year ahead")


def test_a_swipe_scrolls(page: Page, serve: Callable[..., Served]) -> None:
    """A finger that moves up a page brings the text along, and back; it chooses nothing on its way."""
    if page.width > 600:
        pytest.skip("a desk has a wheel")
    page.open(serve().address)
    _lawn(page)
    page.tap("season: the plan of the year")
    page.tap("the operator's sheet: what")
    first = page.wait_for("The lawn as a whole")
    page.swipe(10)
    # two rows a turn of the wheel; the way of a finger shorter than that is left over
    page.wait_until(lambda lines: any(lines[10:18] == first[10 + rows : 18 + rows] for rows in (8, 10)))
    page.swipe(-20)
    page.wait_until(lambda lines: lines[2:20] == first[2:20])


def test_the_only_page_may_be_loaded_again(page: Page, serve: Callable[..., Served]) -> None:
    """With one page allowed, a reload is not shut out by the page that it replaces."""
    page.open(serve("--sessions", "1").address)
    page.wait_for("Walk the lawn")
    page.reload()
    page.wait_for("Walk the lawn")
    assert "again" not in page.address()


def test_a_tap_on_the_one_time_address_in_a_page_of_somebody_else(
    page: Page, serve: Callable[..., Served], tmp_path: Path
) -> None:
    """A mail or a note that is read in the browser: its address lets in, although the cookie is Strict."""
    served = serve("--public-url", "http://127.0.0.1:{port}")
    assert "?token=" in served.address
    (tmp_path / "note.html").write_text(f'<a href="{served.address}">open the screens</a>')
    other = ThreadingHTTPServer(("127.0.0.1", 0), partial(SimpleHTTPRequestHandler, directory=tmp_path))
    threading.Thread(target=other.serve_forever, daemon=True).start()
    page.open(f"http://localhost:{other.server_port}/note.html")  # another site than 127.0.0.1
    page.follow("open the screens")
    page.wait_for("Walk the lawn")
    assert page.address() == f"http://127.0.0.1:{served.port}/"
    other.shutdown()


def test_closing_the_page_ends_its_process(page: Page, serve: Callable[..., Served]) -> None:
    """A page that is left takes its process with it."""
    served = serve()
    page.open(served.address)
    page.wait_for("Walk the lawn")
    assert len(served.screens()) == 1
    page.open("about:blank")
    end = time.monotonic() + 15
    while served.screens() and time.monotonic() < end:
        time.sleep(0.1)
    assert served.screens() == []
