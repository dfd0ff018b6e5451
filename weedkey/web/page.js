// What a finger does on the screens: a tap is left to the terminal, a swipe turns the wheel.
(() => {
  "use strict";
  const rowsForOneTurn = 2; // one turn of the wheel moves the screens by so many rows
  let last = null; // where the finger was when the wheel turned last
  let moved = false;

  function turnWheel(screen, touch, down) {
    screen.dispatchEvent(new WheelEvent("wheel", {
      bubbles: true, cancelable: true, deltaMode: WheelEvent.DOM_DELTA_LINE, deltaY: down ? 1 : -1,
      clientX: touch.clientX, clientY: touch.clientY,
    }));
  }

  function rowHeight() {
    return 1.15 * Number(document.getElementById("terminal").dataset.fontSize); // pixels
  }

  function start(event) {
    last = event.touches.length === 1 ? event.touches[0].clientY : null;
    moved = false;
  }

  function move(event) {
    const screen = document.querySelector(".xterm-screen");
    if (last === null || event.touches.length !== 1 || screen === null) return;
    const touch = event.touches[0];
    const step = rowHeight() * rowsForOneTurn;
    while (Math.abs(last - touch.clientY) >= step) {
      const down = last > touch.clientY;
      turnWheel(screen, touch, down);
      last += down ? -step : step;
      moved = true;
    }
    if (moved && event.cancelable) event.preventDefault(); // what has scrolled is no tap
  }

  const address = new URL(window.location.href);
  if (address.searchParams.has("again")) { // it has found its place now
    address.searchParams.delete("again");
    window.history.replaceState(null, "", address);
  }

  document.addEventListener("DOMContentLoaded", () => {
    const terminal = document.getElementById("terminal");
    terminal.addEventListener("touchstart", start, { passive: true, capture: true });
    terminal.addEventListener("touchmove", move, { passive: false, capture: true });
    document.getElementById("again").addEventListener("click", () => window.location.reload());
  });
})();
