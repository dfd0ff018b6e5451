"""A headless browser in front of a real server: what stands on its screen, taps, typing, and the hosts it asked."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import pyte

ROOT = Path(__file__).resolve().parents[2]
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
DRIVER = shutil.which("chromedriver")
#: What the page receives is noted before the terminal of the page draws it.
LISTEN = """
window.received = []; window.socketAddresses = [];
const Real = window.WebSocket;
window.WebSocket = class extends Real {
  constructor(address, kinds) {
    super(address, kinds);
    window.socketAddresses.push(address);
    this.addEventListener('message', (event) => {
      const data = event.data;
      if (typeof data === 'string') return;
      const read = data instanceof Blob ? data.arrayBuffer() : Promise.resolve(data);
      read.then((bytes) => window.received.push(new TextDecoder().decode(bytes)));
    });
  }
};
"""
_SECONDS = 30


class Served:
    """``weedkey serve`` as a process of its own."""

    def __init__(self, home: Path, port: int, *words: str) -> None:
        self.port = port
        self.process = subprocess.Popen(
            [sys.executable, "-m", "weedkey", "serve", "--port", str(port)]
            + [word.replace("{port}", str(port)) for word in words],
            cwd=ROOT,
            env={**os.environ, "WEEDKEY_HOME": str(home)},
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
        )
        assert self.process.stdout is not None
        self.lines = []
        while True:
            line = self.process.stdout.readline()
            self.lines.append(line.rstrip())
            if not line or line.startswith("Open "):
                break
        self.address = self.lines[-1].removeprefix("Open ")

    def screens(self) -> list[int]:
        """The processes of its open pages."""
        found = subprocess.run(["pgrep", "-P", str(self.process.pid)], capture_output=True, text=True, check=False)
        return [int(one) for one in found.stdout.split()]

    def stop(self) -> None:
        """End it politely."""
        self.process.terminate()
        try:
            self.process.wait(10)
        except subprocess.TimeoutExpired:
            self.process.kill()


def is_running(process: int) -> bool:
    """True if a process of this number still works; one that has ended and only waits to be counted does not."""
    try:
        os.kill(process, 0)
        return "(zombie)" not in Path(f"/proc/{process}/status").read_text()
    except (ProcessLookupError, FileNotFoundError):
        return False


class Page:
    """One page at the size of a phone or of a desk."""

    def __init__(self, width: int, height: int, folder: Path) -> None:
        from selenium import webdriver
        from selenium.webdriver.chrome.service import Service

        options = webdriver.ChromeOptions()
        options.binary_location = str(CHROMIUM)
        for flag in (
            "--headless=new",
            "--no-sandbox",
            "--disable-gpu",
            "--disable-quic",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
            "--disable-dev-shm-usage",
            f"--user-data-dir={folder}",
        ):
            options.add_argument(flag)
        options.set_capability("goog:loggingPrefs", {"performance": "ALL"})
        self.width, self.height = width, height
        self.driver = webdriver.Chrome(options=options, service=Service(str(DRIVER)))
        self.cdp(
            "Emulation.setDeviceMetricsOverride", width=width, height=height, deviceScaleFactor=1, mobile=width < 600
        )
        self.cdp("Emulation.setTouchEmulationEnabled", enabled=width < 600)
        self.cdp("Page.addScriptToEvaluateOnNewDocument", source=LISTEN)

    def cdp(self, command: str, **words: object) -> dict:
        """One command of the browser's own protocol."""
        return self.driver.execute_cdp_cmd(command, words)

    def open(self, address: str) -> None:
        """Load an address."""
        self.driver.get(address)

    def reload(self) -> None:
        """Load the same page again, as its user does."""
        self.driver.refresh()

    def follow(self, words: str) -> None:
        """Click a link in a plain page."""
        from selenium.webdriver.common.by import By

        self.driver.find_element(By.LINK_TEXT, words).click()

    def address(self) -> str:
        """What stands in the line of the address."""
        return str(self.driver.current_url)

    def start_over(self) -> None:
        """Leave the page, and forget what was asked so far."""
        self.driver.get("about:blank")
        self.driver.get_log("performance")

    def cells(self) -> tuple[int, int]:
        """Columns and rows that the page asked for."""
        asked = parse_qs(urlsplit(self.driver.execute_script("return window.socketAddresses[0]")).query)
        return int(asked["width"][0]), int(asked["height"][0])

    def screen(self) -> list[str]:
        """The lines on the screen, from everything that the page has received since it was loaded."""
        columns, rows = self.cells()
        screen = pyte.Screen(columns, rows)
        pyte.Stream(screen).feed("".join(self.driver.execute_script("return window.received")))
        return [line.rstrip() for line in screen.display]

    def wait_for(self, words: str) -> list[str]:
        """The screen, once the words stand on it."""
        return self._wait(lambda: self.screen() if any(words in line for line in self.screen()) else None, words)

    def wait_until(self, is_so: Callable[[list[str]], bool]) -> list[str]:
        """The screen, once something is true of its lines."""
        return self._wait(lambda: lines if is_so(lines := self.screen()) else None, "what was waited for")

    def _wait(self, find: Callable[[], list[str] | None], what: str) -> list[str]:
        end = time.monotonic() + _SECONDS
        while time.monotonic() < end:
            try:
                found = find()
            except (KeyError, TypeError, AttributeError, ValueError):
                found = None  # the page has not opened its connection yet
            if found:
                return found
            time.sleep(0.1)
        raise AssertionError(f"{what!r} did not appear:\n" + "\n".join(self.screen()))

    def tap(self, words: str) -> None:
        """Tap the words where they stand on the screen: with a finger on a phone, with a mouse on a desk."""
        lines = self.wait_for(words)
        row = next(number for number, line in enumerate(lines) if words in line)
        column = lines[row].index(words) + len(words) // 2
        box = self.driver.execute_script(
            "const b = document.querySelector('.xterm-screen').getBoundingClientRect();"
            "return [b.left, b.top, b.width, b.height]"
        )
        columns, rows = self.cells()
        x = box[0] + (column + 0.5) * box[2] / columns
        y = box[1] + (row + 0.5) * box[3] / rows
        if self.width < 600:
            self.cdp("Input.dispatchTouchEvent", type="touchStart", touchPoints=[{"x": x, "y": y}])
            self.cdp("Input.dispatchTouchEvent", type="touchEnd", touchPoints=[])
            return
        for kind in ("mousePressed", "mouseReleased"):
            self.cdp("Input.dispatchMouseEvent", type=kind, x=x, y=y, button="left", clickCount=1)

    def swipe(self, rows: int) -> None:
        """Move a finger up the screen by so many rows; a negative number moves it down."""
        box = self.driver.execute_script(
            "const b = document.querySelector('.xterm-screen').getBoundingClientRect(); return [b.top, b.height]"
        )
        way = rows * box[1] / self.cells()[1]
        x, y = self.width / 2, box[0] + box[1] / 2 + way / 2
        self.cdp("Input.dispatchTouchEvent", type="touchStart", touchPoints=[{"x": x, "y": y}])
        for step in range(1, 21):
            self.cdp("Input.dispatchTouchEvent", type="touchMove", touchPoints=[{"x": x, "y": y - way * step / 20}])
        self.cdp("Input.dispatchTouchEvent", type="touchEnd", touchPoints=[])

    def type(self, text: str) -> None:
        """Type into whatever has the focus."""
        from selenium.webdriver import ActionChains

        ActionChains(self.driver).send_keys(text).perform()

    def hosts(self) -> set[str]:
        """Every host that the page has asked for anything."""
        found = set()
        for entry in self.driver.get_log("performance"):
            message = json.loads(entry["message"])["message"]
            if message["method"] in ("Network.requestWillBeSent", "Network.webSocketCreated"):
                url = message["params"].get("url") or message["params"]["request"]["url"]
                if urlsplit(url).scheme in ("http", "https", "ws", "wss"):
                    found.add(urlsplit(url).hostname)
        return found

    def is_wider_than_the_screen(self) -> bool:
        """True if one would have to scroll sideways."""
        return bool(self.driver.execute_script("return document.documentElement.scrollWidth > window.innerWidth"))

    def close(self) -> None:
        """Close the browser."""
        self.driver.quit()
