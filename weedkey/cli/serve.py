"""``weedkey serve``: the screens in a browser, on this computer or on a phone in the same network."""

from __future__ import annotations

import argparse
import contextlib
import shlex
import sys
from importlib.util import find_spec
from pathlib import Path

from weedkey.cli.exit_codes import ExitCode
from weedkey.cli.opening import local_folder
from weedkey.errors import UsageError
from weedkey.web.access import Door, host_of, is_loopback

PORT = 8000
MOST_PAGES = 4
IDLE_MINUTES = 120.0
WARNING = """\
Careful: {host} can be reached from the network, not only from this computer.
- Whoever gets in sees and changes the walks of this user, as if they sat at this computer.
- Nothing is encrypted between the browser and here. On a network that others share, put it behind a proxy with TLS.
- The address below lets in ONE browser, once. Do not post it anywhere.
- ctrl+c here ends it for everybody."""


def configure(parser: argparse.ArgumentParser) -> None:
    """Arguments of ``weedkey serve``."""
    parser.add_argument("--host", default="127.0.0.1", help="where to listen (default: this computer only)")
    parser.add_argument("--port", type=int, default=PORT, help=f"default: {PORT}")
    parser.add_argument("--public-url", metavar="URL", help="the address that browsers use, behind a proxy")
    parser.add_argument(
        "--sessions",
        "--pages",
        dest="pages",
        type=int,
        default=MOST_PAGES,
        metavar="N",
        help=f"pages open at once (default: {MOST_PAGES})",
    )
    parser.add_argument(
        "--idle",
        type=float,
        default=IDLE_MINUTES,
        metavar="MINUTES",
        help="close a page left alone so long",
    )
    parser.epilog = (
        "On this computer no token is asked. Opened to the network, each browser needs a one-time address.\n"
        "examples:\n  weedkey serve\n  weedkey serve --host 192.168.1.20\n"
        "exit codes: 0 ended, 2 usage"
    )


def execute(args: argparse.Namespace) -> int:
    """Say where to open it, then serve until ctrl+c."""
    _check(args)
    from weedkey.web.server import ScreensServer

    is_open = not is_loopback(args.host) or args.public_url is not None
    base = (args.public_url or f"http://{_in_address(args.host)}:{args.port}").rstrip("/")
    names = frozenset(name for name in (args.host.lower(), host_of(base)) if name)
    server = ScreensServer(
        screens_command(args),
        Door(needs_token=is_open),
        host=args.host,
        port=args.port,
        base=base,
        public_url=args.public_url.rstrip("/") if args.public_url else None,
        names=names,
        most_pages=args.pages,
        idle_minutes=args.idle,
        say=_say,
    )
    if is_open:
        _say(WARNING.format(host=args.host))
    try:
        server.serve()
    except OSError as error:
        raise UsageError(
            f"cannot listen on {args.host} port {args.port}: {error.strerror or error}", "a free port", "--port 8010"
        ) from error
    return ExitCode.OK


def screens_command(args: argparse.Namespace) -> str:
    """The command of the screens, for a shell: this very program, wherever it is started from."""
    import weedkey

    folder = str(Path(weedkey.__file__).resolve().parents[1])
    start = f"import sys; sys.path[0] = {folder!r}; from weedkey.cli.main import run; run()"
    local = local_folder(args)
    # "exec": the shell gives way to the program, so that ending the process ends the program
    return "exec " + shlex.join([sys.executable, "-c", start, *(["--local", str(local)] if local else [])])


def _check(args: argparse.Namespace) -> None:
    if find_spec("textual_serve") is None:
        raise UsageError("the browser part is not installed", "the extra named web", "pip install 'weedkey[web]'")
    if not 1 <= args.port <= 65535:
        raise UsageError(f"--port {args.port}: no port", "1 to 65535", "--port 8000")
    if args.pages < 1:
        raise UsageError(f"--sessions {args.pages}: no page could open", "1 or more", "--sessions 4")
    if not 1 <= args.idle <= 24 * 60:
        raise UsageError(f"--idle {args.idle:g}: not a time", "1 to 1440 minutes", "--idle 120")
    if args.public_url and (
        host_of(args.public_url) is None or not args.public_url.startswith(("http://", "https://"))
    ):
        raise UsageError(f"--public-url {args.public_url}: no address", "http:// or https:// and a name")


def _in_address(host: str) -> str:
    """A host as an address writes it; all interfaces are reached by the name of this computer's own address."""
    if host in ("0.0.0.0", "::", ""):  # noqa: S104 - the owner asked for it and was warned
        return _own_address()
    return f"[{host}]" if ":" in host else host


def _own_address() -> str:
    """The address of this computer in its network; nothing is sent to find it out."""
    import socket

    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # an address that documents use; a datagram socket only looks up the way
        except OSError:
            return "127.0.0.1"
        return str(probe.getsockname()[0])


def _say(words: str) -> None:
    with contextlib.suppress(OSError):  # the terminal may be gone while the pages are still being closed
        print(words, flush=True)
