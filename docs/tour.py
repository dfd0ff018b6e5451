"""Write docs/tour.md: one complete walk as it stands on the screen, at 40 and at 120 columns.

``python docs/tour.py`` (``--check`` only compares). The screens run in a pseudo-terminal of their own, in a folder of
their own; every capture is what that terminal shows. Needs the extra named test.
"""

from __future__ import annotations

import fcntl
import os
import pty
import select
import struct
import subprocess
import sys
import tempfile
import termios
import time
from pathlib import Path
from typing import NamedTuple

import pyte

HERE = Path(__file__).resolve().parent
PAGE = HERE / "tour.md"
SIZES = ((40, 30), (120, 36))
PATIENCE_S = 60.0
#: So long must the screen stand still before it is taken.
STILL_S = 0.4


class Step(NamedTuple):
    """Keys, what the screen then says, and the words above its capture (empty: no capture)."""

    keys: str
    until: str
    title: str
    words: str = ""


STEPS = (
    Step(
        "",
        "start a new lawn",
        "The first screen",
        "It says what to do. Digits, taps, or arrows and enter choose a row.",
    ),
    Step("3", "Which demo lawn?", ""),
    Step(
        "2",
        "Valley rental",
        "The parts of the job",
        "The lawn stays on top: grass, day, place, growth. The parts stand in the order in which they are done.",
    ),
    Step("1", "In which part", ""),
    Step(
        "2",
        "Look 1",
        "One look at a time",
        'What can be seen, in plain words. 0 is "can\'t tell" and never counts against a plant.',
    ),
    Step(
        "2", "Look 2", "What is still possible", "With each answer the treatment is settled further; u takes it back."
    ),
    Step("w", "Why this look", "Why this is asked", "And what else it could be, and what would have changed it."),
    Step("\x1b", "Look 2", ""),
    Step(
        "s",
        "How much of this part",
        "Stop when it is enough",
        "A plant that is not settled stays a set, with its shares.",
    ),
    Step("8\r", "Valley rental", ""),
    Step("3", "Weeds here", "Weeds here"),
    Step("\x1b", "Valley rental", ""),
    Step("4", "about which weed", ""),
    Step("4", "goosegrass:", "Choices", "The verdict on top, then every control: open, spot only, shut."),
    Step("\r", "licence: ", "Why a control is open or shut", "Every gate with its reason and its source."),
    Step("\x1b", "goosegrass:", ""),
    Step("\x1b", "Valley rental", ""),
    Step("5", "What the ground says", "The ground", "Weeds are clues, never proof."),
    Step("\x1b", "Valley rental", ""),
    Step("6", "in the year ahead", "The plan of the year"),
    Step("1", "Plan for", "The operator's sheet"),
    Step("\x1b", "in the year ahead", ""),
    Step("2", "Your lawn", "The owner's sheet", "Plain words: what will look worse first, and what to do."),
    Step("\x1b", "in the year ahead", ""),
    Step("\x1b", "Valley rental", ""),
    Step("?", "all actions", "Help", "Every action of the screen before, as a row to choose or to tap."),
    Step("\x1b", "Valley rental", ""),
    Step("\x1b", "continue the walk", "The next time", "The walk is offered again, whatever ended the program."),
    Step("4", "archived walks", "All walks", "Search, walk a lawn again, archive, out as a zip of plain files."),
)


class Terminal:
    """The screens in a pseudo-terminal; ``screen`` is what a person would see."""

    def __init__(self, home: Path, columns: int, rows: int) -> None:
        self.screen = pyte.Screen(columns, rows)
        self._stream = pyte.ByteStream(self.screen)
        self._master, slave = pty.openpty()
        fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))
        kept = {name: value for name, value in os.environ.items() if name not in ("NO_COLOR", "SSH_CONNECTION")}
        own = {"WEEDKEY_HOME": str(home), "TERM": "xterm-256color", "COLUMNS": str(columns), "LINES": str(rows)}
        self._process = subprocess.Popen(
            [sys.executable, "-m", "weedkey"],
            stdin=slave,
            stdout=slave,
            stderr=slave,
            env={**kept, **own},
            cwd=HERE.parent,
            start_new_session=True,
        )
        os.close(slave)

    def press(self, keys: str) -> None:
        """Type."""
        os.write(self._master, keys.encode())

    def wait_for(self, text: str) -> None:
        """Until the screen says this and stands still. Raises RuntimeError."""
        end, quiet_since = time.monotonic() + PATIENCE_S, time.monotonic()
        while time.monotonic() < end:
            ready, _, _ = select.select([self._master], [], [], 0.05)
            if ready:
                self._stream.feed(os.read(self._master, 65536))
                quiet_since = time.monotonic()
            elif time.monotonic() - quiet_since > STILL_S and text in " ".join(self.capture().split()):
                return
        raise RuntimeError(f"{text!r} did not come; the screen says:\n{self.capture()}")

    def capture(self) -> str:
        """The screen as text, without empty lines at its end."""
        lines = [line.rstrip() for line in self.screen.display]
        body, keys = lines[:-1], lines[-1]
        return "\n".join(line for line in [*_without_gaps(body), keys]).rstrip()

    def end(self) -> None:
        """Leave."""
        self.press("q")
        self._process.wait(timeout=10)
        os.close(self._master)


def _without_gaps(lines: list[str]) -> list[str]:
    """Several empty lines one after another become one."""
    return [line for number, line in enumerate(lines) if line or (number and lines[number - 1])]


def captures(columns: int, rows: int) -> list[str]:
    """What each step shows at a size."""
    with tempfile.TemporaryDirectory() as home:
        terminal = Terminal(Path(home), columns, rows)
        found = []
        for step in STEPS:
            terminal.press(step.keys)
            terminal.wait_for(step.until)
            found.append(terminal.capture())
        terminal.end()
    return found


def tour_page() -> str:
    """The page."""
    narrow, wide = (captures(*size) for size in SIZES)
    lines = [
        "# A walk from the first screen to the owner's sheet",
        "",
        "Made by `python docs/tour.py` from the screens themselves: the demo lawn tennessee_zoysiagrass, first as a",
        "phone of 40 columns shows it, then at 120 columns. Only what is in sight is shown; space shows more.",
        "",
    ]
    for step, phone, desk in zip(STEPS, narrow, wide, strict=True):
        if step.title:
            lines += [f"## {step.title}", ""]
            lines += [step.words, ""] if step.words else []
            lines += ["```text", phone, "```", "", "```text", desk, "```", ""]
    return "\n".join(lines)


def main() -> int:
    """Write the page, or compare it; 1 if it is stale."""
    text = tour_page()
    if "--check" not in sys.argv[1:]:
        PAGE.write_text(text, encoding="utf-8")
        return 0
    if PAGE.is_file() and PAGE.read_text(encoding="utf-8") == text:
        return 0
    print("docs/tour.md is stale; run python docs/tour.py", file=sys.stderr)
    return 1


if __name__ == "__main__":
    sys.exit(main())
