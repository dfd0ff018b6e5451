"""The server without a browser: every route is behind the door, pages are counted, idle pages end."""

from __future__ import annotations

import asyncio
import json
import signal
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from aiohttp import ClientSession, CookieJar, WSServerHandshakeError
from aiohttp.test_utils import TestClient, TestServer
from browser_cases import Served, is_running

from weedkey.cli.main import main
from weedkey.web.access import COOKIE, Door
from weedkey.web.server import MOST_BYTES, ScreensServer

#: Stands for the screens: says the word that the library waits for, then lives until it is told to quit.
STAND_IN = "import sys; sys.stdout.write('__GANGLION__\\n'); sys.stdout.flush(); sys.stdin.buffer.read(6)"


def make_server(said: list[str], **changed: object) -> ScreensServer:
    """A server that asks for a token, with a stand-in for the screens."""
    words = {
        "host": "127.0.0.1",
        "port": 8000,
        "base": "http://192.168.1.20:8000",
        "public_url": None,
        "names": frozenset({"lawn.example.org"}),
        "most_pages": 2,
        "idle_minutes": 60.0,
        "say": said.append,
    }
    door = changed.pop("door", Door(needs_token=True))
    return ScreensServer(f'exec {sys.executable} -c "{STAND_IN}"', door, **{**words, **changed})  # type: ignore[arg-type]


async def open_client(server: ScreensServer) -> TestClient:
    """A browser's side; cookies of plain addresses are kept."""
    client = TestClient(TestServer(await server._make_app()), cookie_jar=CookieJar(unsafe=True))
    await client.start_server()
    return client


def own_origin(client: TestClient) -> dict[str, str]:
    """The header that our own page sends."""
    return {"Origin": f"http://127.0.0.1:{client.port}"}


@pytest.mark.parametrize("path", ["/", "/ws", "/static/js/textual.js", "/download/1", "/nothing"])
async def test_every_route_is_behind_the_door(path: str) -> None:
    """Without the cookie nothing is handed out, not even the files of the page."""
    client = await open_client(make_server([]))
    assert (await client.get(path)).status == 403
    await client.close()


async def test_the_one_time_address_gives_a_cookie_and_goes() -> None:
    """It leads on to the page, with a cookie that scripts and strange pages cannot use; a second use is refused."""
    said: list[str] = []
    server = make_server(said)
    client = await open_client(server)
    address = server.address("") + "&fontsize=14"
    assert (await client.head(address)).status == 403, "looking ahead at an address does not use it up"
    first = await client.get(address)
    assert 'content="0; url=/?fontsize=14"' in await first.text()
    cookie = first.cookies[COOKIE]
    assert cookie["httponly"]
    assert cookie["samesite"] == "Strict"
    assert (await client.get("/")).status == 200
    client.session.cookie_jar.clear()
    assert (await client.get(address)).status == 403
    assert "For another: http://192.168.1.20:8000/?token=" in said[0]
    await client.close()


async def test_the_page_asks_nobody_else() -> None:
    """The viewport tag is there; no address of another host stands in the page; it may not be framed."""
    client = await open_client(make_server([], door=Door(needs_token=False)))
    answer = await client.get("/")
    text = await answer.text()
    assert '<meta name="viewport" content="width=device-width' in text
    assert text.count("://") == text.count(f"ws://127.0.0.1:{client.port}/ws") == 1
    assert answer.headers["X-Frame-Options"] == "DENY"
    await client.close()


async def test_a_strange_name_and_a_strange_page_are_refused() -> None:
    """Host of a stranger (a name made to point here), Origin of a stranger, no Origin at all."""
    client = await open_client(make_server([], door=Door(needs_token=False)))
    assert (await client.get("/", headers={"Host": "stranger.example.net"})).status == 403
    assert (await client.get("/", headers={"Host": "lawn.example.org"})).status == 200
    for headers in ({}, {"Origin": "http://stranger.example.net"}):
        with pytest.raises(WSServerHandshakeError) as refused:
            await client.ws_connect("/ws", headers=headers)
        assert refused.value.status == 403
    await client.close()


async def test_no_more_pages_than_allowed() -> None:
    """The third page reads why it does not open; a place is free again when one closes."""
    server = make_server([], door=Door(needs_token=False))
    client = await open_client(server)
    first = await client.ws_connect("/ws", headers=own_origin(client))
    await client.ws_connect("/ws", headers=own_origin(client))
    refused = await client.get("/")
    assert refused.status == 503
    text = await refused.text()
    assert "2 pages are open already" in text
    assert 'content="0; url=/?again=1"' in text, "it asks once more at once: a reload frees its own place"
    assert 'content="2; url=/?again=1"' in await (await client.get("/?again=1")).text()
    with pytest.raises(WSServerHandshakeError):
        await client.ws_connect("/ws", headers=own_origin(client))
    await first.close()
    for _ in range(100):
        if server.open_pages == 1:
            break
        await asyncio.sleep(0.05)
    assert (await client.get("/")).status == 200
    await client.close()


async def test_an_idle_page_ends_and_its_process_too() -> None:
    """Pings and a change of size are not somebody's touch."""
    server = make_server([], door=Door(needs_token=False), idle_minutes=0.02)
    client = await open_client(server)
    socket = await client.ws_connect("/ws", headers=own_origin(client))
    await socket.send_str(json.dumps(["ping", 1]))
    await socket.send_str(json.dumps(["resize", {"width": 40, "height": 24}]))
    await asyncio.wait_for(_until_closed(socket), 10)
    assert server.open_pages == 0
    await client.close()


async def test_a_message_without_end_is_cut_off() -> None:
    """The connection is closed with 1009 (RFC 6455 section 7.4.1: too big to process), and its process ends."""
    server = make_server([], door=Door(needs_token=False))
    client = await open_client(server)
    socket = await client.ws_connect("/ws", headers=own_origin(client))
    await socket.send_str(json.dumps(["stdin", "x" * MOST_BYTES]))
    await asyncio.wait_for(_until_closed(socket), 10)
    assert socket.close_code == 1009
    await asyncio.wait_for(server._nobody.wait(), 10)
    await client.close()


async def test_the_reload_of_the_only_page_finds_its_place() -> None:
    """A page that is just leaving is waited for, so that no one reads that all places are taken by himself."""
    server = make_server([], door=Door(needs_token=False), most_pages=1)
    client = await open_client(server)
    for _ in range(3):
        socket = await client.ws_connect("/ws", headers=own_origin(client))
        await socket.close()
        assert (await client.get("/?again=1")).status == 200
    await client.close()


async def _until_closed(socket: object) -> None:
    async for _ in socket:  # type: ignore[attr-defined]
        pass


@pytest.mark.parametrize(
    "text", ["", "{", "[]", "[1]", '["stdin", 7]', '["resize", 1]', '["resize", {"width": "x"}]', "7"]
)
async def test_nonsense_from_the_page_is_dropped(text: str) -> None:
    """The connection stays open and answers the next ping."""
    client = await open_client(make_server([], door=Door(needs_token=False)))
    socket = await client.ws_connect("/ws", headers=own_origin(client))
    await socket.send_str(text)
    await socket.send_str(json.dumps(["ping", 5]))
    assert json.loads((await socket.receive(timeout=10)).data) == ["pong", 5]
    await client.close()


@pytest.mark.parametrize(
    ("words", "named"),
    [
        (["--port", "0"], "--port 0"),
        (["--sessions", "0"], "--sessions 0"),
        (["--idle", "0"], "--idle 0"),
        (["--public-url", "lawn"], "--public-url lawn"),
    ],
)
def test_wrong_words_are_named(words: list[str], named: str, capsys: pytest.CaptureFixture[str]) -> None:
    """What is wrong, and what was expected; exit code 2."""
    assert main(["serve", *words]) == 2
    assert named in capsys.readouterr().err


def test_without_the_extra_the_command_says_what_to_install(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """No traceback of a module that is missing."""
    monkeypatch.setattr("weedkey.cli.serve.find_spec", lambda _: None)
    assert main(["serve"]) == 2
    assert "weedkey[web]" in capsys.readouterr().err


def test_a_port_that_is_taken_is_named(serve: Callable[..., Served], capsys: pytest.CaptureFixture[str]) -> None:
    """The second server on one port ends with a sentence."""
    taken = serve()
    assert main(["serve", "--port", str(taken.port)]) == 2
    assert "a free port" in capsys.readouterr().err


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM, signal.SIGHUP, signal.SIGKILL])
async def test_when_the_server_ends_the_screens_end(
    serve: Callable[..., Served], number: signal.Signals, monkeypatch: pytest.MonkeyPatch
) -> None:
    """ctrl+c, a polite end, a terminal that is gone, and a kill that nothing can answer: no process is left over.

    The screens open in a page even if the settings ask for numbered questions: a page has no lines to ask on.
    """
    monkeypatch.setenv("WEEDKEY_PLAIN", "true")
    served = serve()
    base = served.address.rstrip("/")
    async with ClientSession() as browser, browser.ws_connect(f"{base}/ws", headers={"Origin": base}) as socket:
        await socket.receive_bytes(timeout=20)
        screens = served.screens()
        assert len(screens) == 1
        served.process.send_signal(number)
        await asyncio.to_thread(served.process.wait, 10)
    for _ in range(100):
        if not any(is_running(one) for one in screens):
            break
        await asyncio.sleep(0.1)
    assert not any(is_running(one) for one in screens)
    assert served.process.returncode == (-number if number == signal.SIGKILL else 0)


async def test_opened_to_the_network_it_warns_and_asks_for_the_token(serve: Callable[..., Served]) -> None:
    """The warning says who may come in; the plain address is refused, the printed one works once."""
    served = serve("--host", "0.0.0.0")  # noqa: S104 - what is tested
    text = "\n".join(served.lines)
    assert "Careful" in text
    assert "Nothing is encrypted" in text
    assert "?token=" in served.address
    local = served.address.replace(served.address.split("/")[2].split(":")[0], "127.0.0.1")
    async with ClientSession(cookie_jar=CookieJar(unsafe=True)) as browser:
        async with browser.get(local.split("?")[0]) as answer:
            assert answer.status == 403
        async with browser.get(local) as answer:
            assert answer.status == 200


def test_the_page_is_part_of_the_package() -> None:
    """Template and script lie beside the server, so that an installed copy has them."""
    import weedkey.web

    folder = Path(weedkey.web.__file__).parent
    assert (folder / "page.html").is_file()
    assert (folder / "page.js").is_file()
