"""The site record of one visit: what the user typed, checked but not judged."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date


@dataclass(frozen=True, slots=True)
class Measured:
    """A measurement: soil_ph, buffer_ph, probe_test, sun_hours, mowing_height_in, … (value and method)."""

    what: str
    value: float | str
    method: str = ""
    on: date | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Spots:
    """Single plants or clumps: how many, and diameter in inches of one of them."""

    count: int
    diameter_in: float


@dataclass(frozen=True, slots=True)
class Look:
    """One answer in the key. ``states`` empty = can't tell. ``both``: all of them are seen on the patch;
    else one of them.
    """

    trait: str
    states: tuple[str, ...] = ()
    both: bool = False
    unsure: bool = False


@dataclass(frozen=True, slots=True)
class Finding:
    """A weed (or a set that is not settled) in a zone. ``weeds`` maps weed id to belief, summing to 1;
    cover in percent of the zone. ``photos``: paths, absolute or from the folder of the lawn file; never opened.
    """

    weeds: Mapping[str, float]
    cover_percent: float
    stage: str = "any"
    looks: tuple[Look, ...] = ()
    spots: Spots | None = None
    label: str = ""
    note: str = ""
    photos: tuple[str, ...] = ()

    @property
    def is_settled(self) -> bool:
        """True if one weed is left."""
        return len(self.weeds) == 1


@dataclass(frozen=True, slots=True)
class Zone:
    """A part of the lawn. Covers in percent of the zone; ``turf`` None = the lawn's turf; ``photos`` as a finding's."""

    name: str
    area_sqft: float
    findings: tuple[Finding, ...] = ()
    turf: str | None = None
    turf_cover_percent: float | None = None
    bare_percent: float = 0.0
    measured: tuple[Measured, ...] = ()
    under_trees: bool = False
    note: str = ""
    photos: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Tree:
    """A tree or ornamental on or beside the lawn; distances and height in feet."""

    kind: str
    distance_ft: float | None = None
    height_ft: float | None = None
    zones: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PastApplication:
    """What was put down, when, and how much of the active ingredient if it is known."""

    on: date
    control: str
    zones: tuple[str, ...] = ()
    amount: float | None = None
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Seeding:
    """A seeding or sodding that is planned or done; ``method`` is seed, slit_seed, sprigs, plugs or sod."""

    on: date
    turf: str
    method: str = "seed"
    done: bool = False
    mowings_since: int | None = None


@dataclass(frozen=True, slots=True)
class LabelRate:
    """The rate that the user typed from the label in hand; the program never supplies one."""

    control: str
    amount: float
    unit: str
    per: str
    yearly_maximum: float | None = None
    interval_days: int | None = None


@dataclass(frozen=True, slots=True)
class Lawn:
    """One lawn on one day. Optional answers that were not given stay None: a gate that needs one says
    "ask".
    """

    name: str
    on: date
    turf: str
    site: str
    zones: tuple[Zone, ...]
    place: str | None = None
    state: str = ""
    cultivar: str | None = None
    stand: str = "established"
    stand_age_years: float | None = None
    growth: str | None = None
    air_high_f: float | None = None
    air_low_f: float | None = None
    paid: bool | None = None
    licensed: bool | None = None
    children: bool | None = None
    pets: bool | None = None
    trees: tuple[Tree, ...] | None = None
    well: bool | None = None
    water_distance_ft: float | None = None
    irrigation_days_a_week: float | None = None
    mowing_height_in: float | None = None
    measured: tuple[Measured, ...] = ()
    seedings: tuple[Seeding, ...] = ()
    history: tuple[PastApplication, ...] = ()
    label_rates: tuple[LabelRate, ...] = ()
    target: date | None = None
    notes: str = ""
    extra: Mapping[str, object] = field(default_factory=dict)

    @property
    def area_sqft(self) -> float:
        """Sum of the zones."""
        return sum(zone.area_sqft for zone in self.zones)
