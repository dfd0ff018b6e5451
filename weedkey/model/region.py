"""What the key needs to know of treatments: for each weed the region of decisions that it belongs to.

``weedkey.control`` builds these for a lawn; ``weedkey.key`` only receives them. Two weeds with the same
``id``
get the same treatment here.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Region:
    """``kind`` is a verdict; ``actions`` are the controls (or leave_it, prevent …) acceptable for the weed.

    ``harm``: how bad it is to take an action meant for this region on a weed of another one that does not
    accept it,
    0 to 1 (1 kills turf without need or injures it, 0.2 merely fails).
    """

    id: str
    kind: str
    actions: frozenset[str]
    harm: float = 0.2
    irreversible: bool = False
