"""The screens as a process of their own: the line may drop, the process may be killed, nothing is lost."""

from __future__ import annotations

import os
import pty
import select
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

LEAVE_ALTERNATE_SCREEN = b"\x1b[?1049l"


class Terminal:
    """A process in a pseudo-terminal of 80x24."""

    def __init__(self, home: Path, *words: str) -> None:
        self.master, slave = pty.openpty()
        os.set_blocking(self.master, False)
        import fcntl
        import struct
        import termios

        fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", 30, 80, 0, 0))
        environment = {
            **os.environ,
            "WEEDKEY_HOME": str(home),
            "TERM": "xterm-256color",
            "COLUMNS": "80",
            "LINES": "30",
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
