"""What the site says: signs, measurements, wetness index, second opinion of site values, soil acidity and lime."""

from __future__ import annotations

from weedkey.ground.report import list_signs, read_ground
from weedkey.ground.results import GroundReport

__all__ = ["GroundReport", "list_signs", "read_ground"]
