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
        (0.0386, 0.0214),
        (0.0938, 0.0642),
        (0.1589, 0.1038),
        (0.2209, 0.1413),
        (0.3081, 0.2063),
        (0.4133, 0.3379),
        (0.5578, 0.4715),
        (0.7678, 0.6734),
        (0.9554, 0.9419),
        (0.9999, 1.0),
    ),
    "decision": (
        (0.2982, 0.241),
        (0.3513, 0.3096),
        (0.3806, 0.3605),
        (0.4027, 0.3694),
        (0.4445, 0.3964),
        (0.5257, 0.4776),
        (0.6095, 0.5313),
        (0.6887, 0.5963),
        (0.7766, 0.7097),
        (0.868, 0.8034),
        (0.9462, 0.9306),
        (0.99, 0.9851),
        (1.0, 1.0),
    ),
}
