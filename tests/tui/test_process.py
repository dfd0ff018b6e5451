"""The screens as a process of their own: the line may drop, the process may be killed, nothing is lost."""

from __future__ import annotations

import os
import pty
import re
import select
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

LEAVE_ALTERNATE_SCREEN = b"\x1b[?1049l"
#: What of the surroundings of the tests would change what is drawn.
NOT_OURS = ("COLORTERM", "NO_COLOR", "SSH_CONNECTION", "TEXTUAL_COLOR_SYSTEM")
ASKS_FOR_MOUSE = b"\x1b[?1000h"
_STYLE = re.compile(rb"\x1b\[([0-9;]*)m")


def colours_in(drawn: bytes) -> set[str]:
    """Every colour that was asked for: 16 ("31"), 256 ("38;5;n") or all ("38;2;r;g;b")."""
    found = set()
    for match in _STYLE.finditer(drawn):
        parts = match[1].decode().split(";")
        while parts:
            code = parts.pop(0)
            if code in ("38", "48"):
                count = {"5": 2, "2": 4}[parts[0]]
                found.add(";".join([code, *parts[:count]]))
                parts = parts[count:]
            elif code.isdigit() and (30 <= int(code) <= 37 or 40 <= int(code) <= 47 or 90 <= int(code) <= 107):
                found.add(code)
    return found


class Terminal:
    """A process in a pseudo-terminal of 80x24."""

    def __init__(self, home: Path, *words: str, **surroundings: str) -> None:
        self.master, slave = pty.openpty()
        os.set_blocking(self.master, False)
        import fcntl
        import struct
        import termios

        fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", 30, 80, 0, 0))
        environment = {
            **{name: value for name, value in os.environ.items() if name not in NOT_OURS},
            "WEEDKEY_HOME": str(home),
            "TERM": "xterm-256color",
            "COLUMNS": "80",
            "LINES": "30",
            **surroundings,
        }
        self.process = subprocess.Popen(
            [sys.executable, "-m", "weedkey", *words],
            stdin=slave,
            stdout=slave,
            stderr=slave,
            env=environment,
            start_new_session=True,
        )
        os.close(slave)
        self.seen = b""

    def wait_for(self, text: str, seconds: float = 30) -> None:
        """Read until a text has been drawn."""
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            self.read()
            if text.encode() in self.seen:
                return
        raise AssertionError(f"{text!r} was not drawn; last: {self.seen[-400:]!r}")

    def read(self) -> None:
        """Take what has been drawn."""
        ready, _, _ = select.select([self.master], [], [], 0.1)
        if ready:
            try:
                self.seen += os.read(self.master, 65536)
            except OSError:
                time.sleep(0.05)

    def press(self, keys: str) -> None:
        """Type, and forget what was drawn before."""
        self.seen = b""
        os.write(self.master, keys.encode())

    def press_on(self, keys: str) -> None:
        """Type, and keep what was drawn before."""
        os.write(self.master, keys.encode())

    def end(self) -> int:
        """Wait for the process and read the rest."""
        for _ in range(100):
            self.read()
            code = self.process.poll()
            if code is not None:
                self.read()
                return code
        self.process.kill()
        raise AssertionError("the process did not end")


def open_first_look(home: Path) -> Terminal:
    """From the first screen to the first look of a naming on the second demo lawn."""
    terminal = Terminal(home, "demo", "tennessee_zoysiagrass", "--screens")
    terminal.wait_for("name a weed that you do not know")
    terminal.press("1")
    terminal.wait_for("In which part of the lawn?")
    terminal.press("1")
    terminal.wait_for("Look 1")
    return terminal


@pytest.mark.parametrize("name", ["SIGTERM", "SIGHUP"])
def test_the_terminal_is_given_back_when_the_line_drops(tmp_path: Path, name: str) -> None:
    """The process leaves the alternate screen and ends without a traceback."""
    terminal = open_first_look(tmp_path)
    terminal.seen = b""
    terminal.process.send_signal(getattr(signal, name))
    assert terminal.end() == 0
    assert LEAVE_ALTERNATE_SCREEN in terminal.seen
    assert b"Traceback" not in terminal.seen


def test_a_kill_loses_no_answer(tmp_path: Path) -> None:
    """After kill -9 the answers given are on disk, and the next start continues the naming."""
    terminal = open_first_look(tmp_path)
    terminal.press("2")
    terminal.wait_for("Look 2")
    terminal.process.kill()
    terminal.process.wait(timeout=10)
    (journal,) = tmp_path.rglob("naming-1.jsonl")
    assert journal.read_text(encoding="utf-8").count('"event": "look"') == 1
    again = Terminal(tmp_path)
    again.wait_for("continue the walk of 3 June 2026")
    again.press("1")
    again.wait_for("Look 2")
    again.press("q")
    assert again.end() == 0


def test_a_kill_between_the_questions_of_a_new_lawn_loses_no_answer(tmp_path: Path) -> None:
    """After kill -9 the next start offers to go on with the lawn that was begun."""
    terminal = Terminal(tmp_path)
    terminal.wait_for("start a new lawn")
    terminal.press("2")
    terminal.wait_for("Which grass is to win here?")
    terminal.press("zoy")
    terminal.wait_for("zoysiagrass")
    terminal.press("\r")
    terminal.wait_for("Which place has your climate?")
    terminal.process.kill()
    terminal.process.wait(timeout=10)
    again = Terminal(tmp_path)
    again.wait_for("start a new lawn")
    again.press("2")
    again.wait_for("go on: zoysiagrass")
    again.press("1")
    again.wait_for("Which place has your climate?")
    again.press("\x1b")
    again.wait_for("Which grass is to win here?")
    again.process.kill()
    again.process.wait(timeout=10)


def test_a_kill_after_a_finding_loses_nothing(tmp_path: Path) -> None:
    """A weed entered and its cover are in the lawn file; the walk is offered again with them."""
    terminal = Terminal(tmp_path, "demo", "tennessee_zoysiagrass", "--screens")
    terminal.wait_for("name a weed that you do not know")
    terminal.press("2")
    terminal.wait_for("Which weed?")
    terminal.press("henbit\r")
    terminal.wait_for("In which part of the lawn?")
    terminal.press("2")
    terminal.wait_for("How much of this part")
    terminal.press("7\r")
    terminal.wait_for("henbit 7 %")
    terminal.process.kill()
    terminal.process.wait(timeout=10)
    (lawn,) = tmp_path.rglob("lawn.yaml")
    assert "henbit, cover: 7" in lawn.read_text(encoding="utf-8")
    again = Terminal(tmp_path)
    again.wait_for("continue the walk of 3 June 2026")
    again.press("1")
    again.wait_for("henbit 7 %")
    again.press("q")
    assert again.end() == 0


def first_screen(home: Path, *words: str, **surroundings: str) -> bytes:
    """What is drawn for the first screen, until it is left."""
    terminal = Terminal(home, *words, **surroundings)
    terminal.wait_for("start a new lawn")
    for _ in range(5):
        terminal.read()
    terminal.press_on("q")
    assert terminal.end() == 0
    return terminal.seen


def test_no_colour_means_no_colour(tmp_path: Path) -> None:
    """With NO_COLOR not one colour is sent, grey included, whatever theme the settings hold.

    Source: the NO_COLOR convention (a variable that is present and not empty forbids ANSI colour).
    """
    drawn = first_screen(tmp_path, NO_COLOR="1", WEEDKEY_THEME="contrast")
    assert colours_in(drawn) == set()
    assert b"\x1b[7" in drawn or b";7" in drawn  # the row under the cursor is reversed
    assert colours_in(first_screen(tmp_path, WEEDKEY_THEME="contrast")) != set()


def test_a_terminal_of_256_colours_gets_256_colours(tmp_path: Path) -> None:
    """Without COLORTERM no colour of 24 bits is sent, and the greys come from the ramp of greys (232 to 255).

    Source: the xterm palette: 16 to 231 a cube of 6 x 6 x 6, 232 to 255 a ramp of greys.
    """
    colours = colours_in(first_screen(tmp_path))
    assert colours
    assert not [colour for colour in colours if ";2;" in colour]
    backgrounds = {int(colour.split(";")[2]) for colour in colours if colour.startswith("48;5;")}
    assert backgrounds
    assert all(
        number in (0, 7, 8, 15, 16, 231) or 232 <= number <= 255 or _is_cube_grey(number)
        for number in (backgrounds - _of_the_cursor(colours))
    )


def _is_cube_grey(number: int) -> bool:
    place = number - 16
    return 0 <= place < 216 and place // 36 == place // 6 % 6 == place % 6


def _of_the_cursor(colours: set[str]) -> set[int]:
    """The row under the cursor has the colour of the theme: one background that is no grey."""
    tinted = {int(c.split(";")[2]) for c in colours if c.startswith("48;5;")}
    tinted = {number for number in tinted if 16 <= number < 232 and not _is_cube_grey(number)}
    assert len(tinted) <= 1
    return tinted


def test_the_mouse_can_be_left_to_the_terminal(tmp_path: Path) -> None:
    """--no-mouse, or the setting: no tracking is asked for, so that the terminal selects text itself."""
    assert ASKS_FOR_MOUSE in first_screen(tmp_path)
    assert ASKS_FOR_MOUSE not in first_screen(tmp_path, "--no-mouse")
    assert ASKS_FOR_MOUSE not in first_screen(tmp_path, WEEDKEY_MOUSE="off")


def test_demo_opens_the_demo_lawns(tmp_path: Path) -> None:
    """On a terminal the choice of a demo lawn stands there at once."""
    terminal = Terminal(tmp_path, "demo")
    terminal.wait_for("Which demo lawn?")
    terminal.press("2")
    terminal.wait_for("Valley rental")
    terminal.press("q")
    assert terminal.end() == 0


def test_a_dumb_terminal_gets_numbered_questions(tmp_path: Path) -> None:
    """Without a terminal the same job comes line by line."""
    done = subprocess.run(
        [sys.executable, "-m", "weedkey"],
        input="q\n",
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
        env={**os.environ, "WEEDKEY_HOME": str(tmp_path), "TERM": "dumb"},
    )
    assert done.returncode == 0
    assert "What now?" in done.stdout
    assert "\x1b" not in done.stdout
