"""Points of the calibration: (raw belief, share that was right). Written by tests/bench/own_knowledge.py --calibrate.

How they were made: simulated users in front of every weed that makes sense, ten turfs, May and September, mown lawn,
5 % wrong answers, 20 % "can't tell"; the beliefs after each of the first eight looks, pooled to a rising curve on every
other belief and checked on the rest (expected calibration error in docs/key.md).
"""

from __future__ import annotations

from collections.abc import Mapping

POINTS: Mapping[str, tuple[tuple[float, float], ...]] = {
    "name": (
        (0.0096, 0.0046),
        (0.0126, 0.0065),
        (0.0386, 0.0194),
        (0.0937, 0.0614),
        (0.1578, 0.1078),
        (0.2182, 0.1425),
        (0.3063, 0.2027),
        (0.4108, 0.3423),
        (0.5552, 0.4756),
        (0.764, 0.6637),
        (0.9548, 0.9378),
        (0.9999, 1.0),
    ),
    "decision": (
        (0.2941, 0.2503),
        (0.3516, 0.3189),
        (0.3939, 0.3617),
        (0.4428, 0.3851),
        (0.5232, 0.4792),
        (0.6061, 0.5373),
        (0.6846, 0.5838),
        (0.7727, 0.7049),
        (0.8658, 0.7998),
        (0.9447, 0.9285),
        (0.9898, 0.9843),
        (1.0, 1.0),
    ),
}
