"""Points of the calibration: (raw belief, share that was right). Written by tests/bench/own_knowledge.py."""

from __future__ import annotations

from collections.abc import Mapping

POINTS: Mapping[str, tuple[tuple[float, float], ...]] = {
    "name": (
        (0.012, 0.0079),
        (0.0285, 0.0207),
        (0.0756, 0.0463),
        (0.1114, 0.0676),
        (0.1861, 0.1328),
        (0.2708, 0.2284),
        (0.3668, 0.299),
        (0.4791, 0.394),
        (0.6229, 0.539),
        (0.7958, 0.7278),
        (0.9316, 0.9111),
        (0.9907, 0.9903),
        (1.0, 1.0),
    ),
    "decision": (
        (0.3135, 0.2808),
        (0.4077, 0.3614),
        (0.476, 0.4166),
        (0.5577, 0.5183),
        (0.6326, 0.556),
        (0.7231, 0.6297),
        (0.8102, 0.7369),
        (0.8899, 0.8362),
        (0.9505, 0.947),
        (0.9838, 0.9762),
        (0.9973, 0.9963),
        (1.0, 1.0),
    ),
}
