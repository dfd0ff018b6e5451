"""What works here: gates, choices, verdicts. Pure functions of the knowledge and a setting; no prose, no clock."""

from __future__ import annotations

from weedkey.control.choices import list_choices
from weedkey.control.regions import controls_of, decision_regions
from weedkey.control.results import (
    Alternative,
    Choice,
    ForWeed,
    GateResult,
    Span,
    TurfControl,
    Verdict,
)
from weedkey.control.setting import Setting
from weedkey.control.thresholds import judge_cover
from weedkey.control.turf_table import turf_table
from weedkey.control.verdicts import judge_weed

__all__ = [
    "Alternative",
    "Choice",
    "ForWeed",
    "GateResult",
    "Setting",
    "Span",
    "TurfControl",
    "Verdict",
    "controls_of",
    "decision_regions",
    "judge_cover",
    "judge_weed",
    "list_choices",
    "turf_table",
]
