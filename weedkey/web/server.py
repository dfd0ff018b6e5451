"""The server: a door before every route, as many screens at once as were allowed, and an end to those left idle."""

from __future__ import annotations

import asyncio
import contextlib
import json
import signal
import time
from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import Any

from aiohttp import WSCloseCode, WSMsgType, web
from textual_serve.app_service import AppService
from textual_serve.server import Server, to_int

from weedkey.web.access import COOKIE, TOKEN, Door, is_known_host, is_same_origin

#: Nobody types or pastes more than this at once.
MOST_BYTES = 64 * 1024
#: The screens may be as large as a wall, but not without end.
MOST_CELLS = 500
#: Seconds that a process of the screens has to leave politely.
LEAVES_WITHIN = 5.0
#: Seconds that a page has to answer when it is told that the connection ends.
ANSWERS_WITHIN = 1.0
#: Seconds that a page without a place waits for one, and then until it asks again.
ASKS_AGAIN = 2
#: The part of the address of a page that found no place before.
AGAIN = "again"
#: What the screens use in place of the library's own, named for the library; nothing of it is imported here.
DRIVER = "weedkey.tui.browser_driver:BrowserDriver"
_HEADERS = {
    "X-Frame-Options": "DENY",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cache-Control": "no-store",
    "Content-Security-Policy": (
        "default-src 'self'; script-src 'self'; style-src 'self' 'unsafe-inline';"
        " img-src 'self' data:; connect-src 'self' ws: wss:; frame-ancestors 'none'"
    ),
}

Handler = Callable[[web.Request], Awaitable[web.StreamResponse]]


class Screens(AppService):
    """The process of one page."""

    def _build_environment(self, width: int = 80, height: int = 24) -> dict[str, str]:
        return {**super()._build_environment(width, height), "TEXTUAL_DRIVER": DRIVER}


class ScreensServer(Server):
    """One process of the screens for each open page.

    ``base`` is the address that people are told; ``public_url`` is the one that the owner gave, if he gave one.
    """

    def __init__(
        self,
        command: str,
        door: Door,
        *,
        host: str,
        port: int,
        base: str,
        public_url: str | None,
        names: frozenset[str],
        most_pages: int,
        idle_minutes: float,
        say: Callable[[str], None],
    ) -> None:
        super().__init__(command, host, port, title="weedkey", public_url=base, templates_path=Path(__file__).parent)
        self.door = door
        self.given_url = public_url
        self.names = names
        self.most_pages = most_pages
        self.idle_seconds = idle_minutes * 60
        self.say = say
        self.open_pages = 0
        self._gone = asyncio.Event()
        self._nobody = asyncio.Event()
        self._nobody.set()
        self._sockets: set[web.WebSocketResponse] = set()
        self._endings: set[asyncio.Task[None]] = set()

    def initialize_logging(self) -> None:
        """Only what the owner must know is printed."""

    async def on_startup(self, app: web.Application) -> None:
        """The address is told once the server listens."""

    def serve(self, debug: bool = False) -> None:  # noqa: ARG002 - the signature of the library
        """Serve until ctrl+c, or until the terminal that it was started from is gone. Raises OSError."""
        asyncio.run(self._serve())

    async def _serve(self) -> None:
        wanted = asyncio.Event()
        for name in ("SIGINT", "SIGTERM", "SIGHUP"):
            number = getattr(signal, name, None)
            if number is not None and signal.getsignal(number) is not signal.SIG_IGN:  # nohup wants it to stay
                asyncio.get_running_loop().add_signal_handler(number, wanted.set)
        runner = web.AppRunner(await self._make_app(), shutdown_timeout=LEAVES_WITHIN)
        await runner.setup()
        try:
            await web.TCPSite(runner, self.host, self.port).start()
            self.say(f"Open {self.address(self.public_url)}")
            self.say("ctrl+c ends it; every answer is saved.")
            await wanted.wait()
        finally:
            await runner.cleanup()

    async def _make_app(self) -> web.Application:
        app = await super()._make_app()
        app.router.add_get("/page.js", handle_script)

        @web.middleware
        async def before_all(request: web.Request, handler: Handler) -> web.StreamResponse:
            return await self.guard(request, handler)

        app.middlewares.append(before_all)
        return app

    def address(self, base: str) -> str:
        """The address to open: with a new one-time token where one is asked."""
        return f"{base}/?{TOKEN}={self.door.make_token()}" if self.door.needs_token else f"{base}/"

    async def guard(self, request: web.Request, handler: Handler) -> web.StreamResponse:
        """The door before every route: page, files, connection, downloads."""
        refusal = self._refusal_or_none(request) or await self._full_or_none(request)
        response: web.StreamResponse = refusal if refusal is not None else await handler(request)
        if not response.prepared:
            response.headers.update(_HEADERS)
        return response

    def _refusal_or_none(self, request: web.Request) -> web.Response | None:
        if not is_known_host(request.headers.get("Host"), self.names):
            return _page(403, "This name is not one of this server. Open it by its address in numbers.")
        if request.path == "/" and request.method == "GET" and TOKEN in request.query:
            return self._let_in(request)
        if not self.door.lets_in(request.cookies.get(COOKIE)):
            return _page(403, "This page opens with a one-time address only. Ask for a new one where weedkey runs.")
        is_own = is_same_origin(request.headers.get("Origin"), request.headers.get("Host"), self.given_url)
        if request.path == "/ws" and not is_own:
            return _page(403, "Another page may not open these screens.")
        return None

    async def _full_or_none(self, request: web.Request) -> web.Response | None:
        """A page that says so if there is no place; it asks again by itself, the first time at once.

        A browser that loads its page again leaves the old one only when it has the answer; then the place is free.
        """
        if request.path not in ("/", "/ws") or self.open_pages < self.most_pages:
            return None
        is_first = request.path == "/" and AGAIN not in request.query
        if not is_first:
            self._gone.clear()
            with contextlib.suppress(TimeoutError):
                await asyncio.wait_for(self._gone.wait(), ASKS_AGAIN)
        if self.open_pages < self.most_pages:
            return None
        pages = "One page is" if self.most_pages == 1 else f"{self.most_pages} pages are"
        words = f"{pages} open already, and no more are allowed. This one opens as soon as another is closed."
        return _page(503, words, next_page=_home(request, again=True), next_after=0 if is_first else ASKS_AGAIN)

    def _let_in(self, request: web.Request) -> web.Response:
        """Change a good token for a cookie; the token leaves the address.

        The next page is loaded by this page: a cookie that is Strict would not go along with a redirect if the address
        was tapped in a page of somebody else, such as a mail.
        """
        if not self.door.needs_token:
            return _page(200, "Opening …", next_page=_home(request))
        cookie = self.door.redeem_or_none(request.query[TOKEN])
        if cookie is None:
            return _page(403, "This one-time address was used already, or never was good. Ask for a new one.")
        response = _page(200, "This browser is let in.", next_page=_home(request))
        is_secure = (self.given_url or "").startswith("https")
        response.set_cookie(COOKIE, cookie, httponly=True, samesite="Strict", secure=is_secure, path="/")
        self.say(f"One browser was let in ({request.remote}). For another: {self.address(self.public_url)}")
        return response

    async def handle_index(self, request: web.Request) -> web.StreamResponse:
        """The page. Its connection goes back to whatever address it was opened by."""
        import aiohttp_jinja2

        base = (self.given_url or f"{request.scheme}://{request.host}").rstrip("/")
        size = min(max(to_int(request.query.get("fontsize", "16"), 16), 8), 40)
        context: dict[str, Any] = {
            "font_size": size,
            "websocket_url": "ws" + base.removeprefix("http") + "/ws",
            "static_url": "/static/",
        }
        return aiohttp_jinja2.render_template("page.html", request, context)

    async def handle_websocket(self, request: web.Request) -> web.WebSocketResponse:
        """Start the screens for one page, and carry keys and text until either side leaves."""
        socket = web.WebSocketResponse(heartbeat=15, max_msg_size=MOST_BYTES, timeout=ANSWERS_WITHIN)

        async def close() -> None:
            await socket.close()

        self.open_pages += 1
        self._nobody.clear()
        service: AppService | None = None
        try:
            await socket.prepare(request)
            self._sockets.add(socket)
            service = Screens(
                self.command,
                write_bytes=socket.send_bytes,
                write_str=socket.send_str,
                close=close,
                download_manager=self.download_manager,
            )
            await service.start(_cells(request.query.get("width"), 80), _cells(request.query.get("height"), 24))
            await self._carry(socket, service)
        finally:
            self._sockets.discard(socket)
            # a page that is simply gone cancels this function; the screens must be ended all the same
            ending = asyncio.create_task(self._end(service))
            self._endings.add(ending)
            ending.add_done_callback(self._endings.discard)
            await asyncio.shield(ending)
        return socket

    async def _end(self, service: AppService | None) -> None:
        try:
            if service is not None:
                await _stop(service)
        finally:
            self.open_pages -= 1
            self._gone.set()
            if self.open_pages == 0:
                self._nobody.set()

    async def on_shutdown(self, app: web.Application) -> None:  # noqa: ARG002 - the signature of the library
        """Tell every page, and wait until its screens have left."""
        going = WSCloseCode.GOING_AWAY
        await asyncio.gather(*(socket.close(code=going) for socket in set(self._sockets)), return_exceptions=True)
        with contextlib.suppress(TimeoutError):
            await asyncio.wait_for(self._nobody.wait(), 2 * LEAVES_WITHIN)

    async def _carry(self, socket: web.WebSocketResponse, service: AppService) -> None:
        """Pass on what the page sends, until it closes or nobody has typed for too long."""
        last = time.monotonic()
        while not socket.closed:
            left = last + self.idle_seconds - time.monotonic()
            if left <= 0:
                return
            try:
                message = await socket.receive(timeout=left)
            except TimeoutError:
                continue
            if message.type in (WSMsgType.CLOSE, WSMsgType.CLOSING, WSMsgType.CLOSED, WSMsgType.ERROR):
                return
            if message.type == WSMsgType.TEXT and await _pass_on(message.data, socket, service):
                last = time.monotonic()


async def _pass_on(text: str, socket: web.WebSocketResponse, service: AppService) -> bool:
    """One message of the page; True if somebody typed or tapped. What is not understood is dropped."""
    try:
        kind, data = json.loads(text)[:2]
    except (ValueError, TypeError):
        return False
    if kind == "stdin" and isinstance(data, str):
        await service.send_bytes(data.encode())
        return True
    if kind == "resize" and isinstance(data, dict):
        await service.set_terminal_size(_cells(data.get("width"), 80), _cells(data.get("height"), 24))
    elif kind == "ping":
        await socket.send_json(["pong", data])
    elif kind == "blur":
        await service.blur()
    elif kind == "focus":
        await service.focus()
    return False


async def _stop(service: AppService) -> None:
    """Ask the screens to leave; they have saved everything already. End them if they do not."""
    process = service._process  # noqa: SLF001 - the library offers no other way to end a process that hangs
    with contextlib.suppress(TimeoutError, OSError):
        await asyncio.wait_for(service.stop(), LEAVES_WITHIN)
    if process is None:
        return
    try:
        await asyncio.wait_for(process.wait(), LEAVES_WITHIN)
    except TimeoutError:
        process.kill()
        await process.wait()


def _cells(value: object, usual: int) -> int:
    return min(max(to_int(str(value), usual), 10), MOST_CELLS) if value is not None else usual


async def handle_script(request: web.Request) -> web.FileResponse:  # noqa: ARG001 - the signature of a handler
    """The script of the page: what a finger does."""
    return web.FileResponse(Path(__file__).with_name("page.js"))


def _home(request: web.Request, *, again: bool = False) -> str:
    """The address of the screens in this server, with the size of the letters that was asked for."""
    size = request.query.get("fontsize", "")
    parts = [f"fontsize={size}"] if size.isascii() and size.isdecimal() else []
    parts += [f"{AGAIN}=1"] if again else []
    return "/" + ("?" + "&".join(parts) if parts else "")


def _page(status: int, words: str, *, next_page: str | None = None, next_after: int = 0) -> web.Response:
    """A plain page that says why; after so many seconds the browser goes on to the next one, if there is one."""
    follow = "" if next_page is None else f'<meta http-equiv="refresh" content="{next_after}; url={next_page}">'
    link = "" if next_page is None else f'<p><a href="{next_page}">go on</a></p>'
    html = (
        '<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><title>weedkey</title>'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f'{follow}</head><body style="font-family: monospace; margin: 2em"><p>{words}</p>{link}</body></html>'
    )
    return web.Response(status=status, text=html, content_type="text/html")
