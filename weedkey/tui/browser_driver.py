"""What carries the screens to a page of a browser; it also notices that the server has died."""

from __future__ import annotations

import os
import signal

from textual.drivers.web_driver import WebDriver


class BrowserDriver(WebDriver):
    """The server asks the screens to leave. If it was killed it cannot ask; then its end of the line is closed."""

    def run_input_thread(self) -> None:
        """Read what is typed. Where nothing can come any more, the screens leave as after a hang-up."""
        super().run_input_thread()
        if not self.exit_event.is_set():
            os.kill(os.getpid(), signal.SIGHUP)
