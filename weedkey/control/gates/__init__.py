"""The gates in the order in which they are asked."""

from __future__ import annotations

from weedkey.control.gates.base import Gate, Question
from weedkey.control.gates.law import LabelGate, LicenceGate, SiteGate
from weedkey.control.gates.record import IntervalGate, ResistanceGate, RotationGate, YearlyMaximumGate
from weedkey.control.gates.surroundings import PeopleGate, SeedingGate, SoilPhGate, TreesGate, WaterGate
from weedkey.control.gates.turf import CultivarGate, GrowthGate, StandGate, TurfGate
from weedkey.control.gates.weather import AirTemperatureGate, IrrigationGate, MowingGate, RainGate, WindGate
from weedkey.control.gates.weed import BeesGate, TimeOfYearGate, WeedResponseGate, WeedStageGate

#: Site and licence, turf, growth, air, weed and season, trees and water, seed, yearly record, the day, the label.
GATES: tuple[Gate, ...] = (
    SiteGate(),
    LicenceGate(),
    TurfGate(),
    CultivarGate(),
    StandGate(),
    GrowthGate(),
    AirTemperatureGate(),
    WeedStageGate(),
    TimeOfYearGate(),
    WeedResponseGate(),
    TreesGate(),
    WaterGate(),
    PeopleGate(),
    SeedingGate(),
    YearlyMaximumGate(),
    IntervalGate(),
    RotationGate(),
    ResistanceGate(),
    SoilPhGate(),
    BeesGate(),
    MowingGate(),
    RainGate(),
    IrrigationGate(),
    WindGate(),
    LabelGate(),
)
GATE_ORDER = {gate.id: place for place, gate in enumerate(GATES)}

__all__ = ["GATES", "GATE_ORDER", "Gate", "Question"]
