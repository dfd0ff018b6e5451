"""From belief to confidence: how often simulated users with usual error rates were right at this belief.

Straight lines between the points of ``calibration_points``; before any points exist, the belief itself.
"""

from __future__ import annotations

from itertools import pairwise

from weedkey.key.calibration_points import POINTS


def calibrate(what: str, belief: float) -> float:
    """Calibrated confidence, 0 to 1, for a raw belief. ``what`` is name or decision."""
    points = POINTS.get(what, ())
    if not points:
        return belief
    if belief <= points[0][0]:
        return points[0][1]
    for (low, low_share), (high, high_share) in pairwise(points):
        if belief <= high:
            part = (belief - low) / (high - low) if high > low else 1.0
            return low_share + part * (high_share - low_share)
    return points[-1][1]
