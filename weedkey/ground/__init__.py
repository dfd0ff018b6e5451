"""What the site says: signs, measurements, wetness index, second opinion of site values, soil acidity and lime."""

from __future__ import annotations

from weedkey.ground.report import list_signs, read_ground

__all__ = ["list_signs", "read_ground"]
