"""Points of the calibration: (raw belief, share that was right). Written by tests/bench/own_knowledge.py."""

from __future__ import annotations

from collections.abc import Mapping

POINTS: Mapping[str, tuple[tuple[float, float], ...]] = {}
