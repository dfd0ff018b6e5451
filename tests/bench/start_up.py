"""Start-up as ratios to a bare interpreter, and first paint as a ratio to an empty Textual app.

Run by hand: ``python tests/bench/start_up.py``. Targets: --help 4 x, name --json 10 x, first paint 1.3 x.
"""

from __future__ import annotations

import os
import pty
import select
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

RUNS = 15
EMPTY_APP = """
from textual.app import App
from textual.widgets import Static
class Empty(App):
    def compose(self):
        yield Static("MARK")
Empty().run()
"""
NAME = [
    "name",
    "--turf",
    "zoysiagrass",
    "--month",
    "6",
    "--place",
    "Murfreesboro",
    "--look",
    "plant_group=sedge",
    "--json",
]


def seconds_of(words: list[str]) -> float:
    """Wall time of one process."""
    start = time.perf_counter()
    subprocess.run([sys.executable, *words], stdout=subprocess.DEVNULL, check=True)
    return time.perf_counter() - start


def paint_of(words: list[str], mark: bytes, home: str) -> float:
    """Time from the start of a process to a text on a pseudo-terminal of 80x24."""
    start = time.perf_counter()
    pid, master = pty.fork()
    if pid == 0:
        os.environ.update(WEEDKEY_HOME=home, COLUMNS="80", LINES="24", TERM="xterm-256color")
        os.execv(sys.executable, [sys.executable, *words])  # noqa: S606
    seen = b""
    while mark not in seen:
        if select.select([master], [], [], 10)[0]:
            seen += os.read(master, 65536)
    took = time.perf_counter() - start
    os.kill(pid, 9)
    os.waitpid(pid, 0)
    os.close(master)
    return took


def medians(*makers):
    """Median of each maker, measured in turn so that a drift of the machine meets all alike."""
    rows = [[make() for make in makers] for _ in range(RUNS)]
    return [statistics.median(column) for column in zip(*rows, strict=True)]


def main() -> None:
    """Print the table."""
    module = ["-m", "weedkey"]
    seconds_of([*module, *NAME])
    bare, help_, name = medians(
        lambda: seconds_of(["-c", "pass"]),
        lambda: seconds_of([*module, "--help"]),
        lambda: seconds_of([*module, *NAME]),
    )
    with tempfile.TemporaryDirectory() as home:
        empty_file = Path(home) / "empty.py"
        empty_file.write_text(EMPTY_APP, encoding="utf-8")
        empty, screens = medians(
            lambda: paint_of([str(empty_file)], b"MARK", home), lambda: paint_of(module, b"open a demo lawn", home)
        )
    print(f"{'what':<28}{'median ms':>10}{'ratio':>8}{'target':>8}")
    print(f"{'bare interpreter':<28}{bare * 1000:>10.1f}{1:>8.2f}")
    print(f"{'weedkey --help':<28}{help_ * 1000:>10.1f}{help_ / bare:>8.2f}{4:>8}")
    print(f"{'weedkey name … --json':<28}{name * 1000:>10.1f}{name / bare:>8.2f}{10:>8}")
    print(f"{'empty Textual app, paint':<28}{empty * 1000:>10.1f}{1:>8.2f}")
    print(f"{'weedkey, first paint':<28}{screens * 1000:>10.1f}{screens / empty:>8.2f}{1.3:>8}")


if __name__ == "__main__":
    main()
