"""A headless browser in front of a real server: what stands on its screen, taps, typing, and the hosts it asked."""

from __future__ import annotations

import json
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
        import os

        self.port = port
        self.process = subprocess.Popen(
            [sys.executable, "-m", "weedkey", "serve", "--port", str(port), *words],
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

    def stop(self) -> None:
        """End it as ctrl+c does."""
        self.process.terminate()
        try:
            self.process.wait(10)
        except subprocess.TimeoutExpired:
            self.process.kill()


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
