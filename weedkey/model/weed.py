"""A weed and everything known about it; each fact with its sources."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from weedkey.model.source import Sighting, require_sources
from weedkey.model.window import Window


@dataclass(frozen=True, slots=True)
class Seen:
    """One state of one trait in this weed. ``share`` is the share of plants (0 to 1) that show it, None if
    not stated.
    """

    state: str
    sources: tuple[str, ...]
    share: float | None = None
    note: str = ""

    def __post_init__(self) -> None:
        require_sources(self.sources, f"look {self.state}")


@dataclass(frozen=True, slots=True)
class CalendarRow:
    """When the weed does what, in some regions (empty = everywhere it grows).

    Windows: ``germinates`` (zero, one or two a year), ``active`` (green and growing), ``flowers``, ``seeds``.
    ``dies``: what ends an annual (frost, heat, drought, none).
    """

    sources: tuple[str, ...]
    regions: tuple[str, ...] = ()
    germinates: tuple[Window, ...] = ()
    active: tuple[Window, ...] = ()
    flowers: tuple[Window, ...] = ()
    seeds: tuple[Window, ...] = ()
    dies: str | None = None
    germinates_soil_f: tuple[float, float] | None = None
    note: str = ""

    def __post_init__(self) -> None:
        require_sources(self.sources, "calendar row")


@dataclass(frozen=True, slots=True)
class LifeCycle:
    """How long a plant lives; more than one where floras and trade differ."""

    kind: str
    sources: tuple[str, ...]
    note: str = ""

    def __post_init__(self) -> None:
        require_sources(self.sources, f"life cycle {self.kind}")


@dataclass(frozen=True, slots=True)
class Wetland:
    """Status on the National Wetland Plant List in one region, with the year of the list."""

    region: str
    status: str
    sources: tuple[str, ...]
    year: str = ""
    doubtful: bool = False
    note: str = ""

    def __post_init__(self) -> None:
        require_sources(self.sources, f"wetland status {self.region}")


@dataclass(frozen=True, slots=True)
class Sign:
    """What the weed says about the site. ``against`` marks a source that says the opposite."""

    condition: str
    sources: tuple[str, ...]
    strength: str = "not_stated"
    against: bool = False
    note: str = ""

    def __post_init__(self) -> None:
        require_sources(self.sources, f"sign {self.condition}")


@dataclass(frozen=True, slots=True)
class SiteValues:
    """Ellenberg-type values: light 1-12, moisture 1-12, reaction 1-9, nutrients 1-9, salinity 0-3; None =
    indifferent.
    """

    sources: tuple[str, ...]
    light: int | None = None
    moisture: int | None = None
    reaction: int | None = None
    nutrients: int | None = None
    salinity: int | None = None
    indifferent: tuple[str, ...] = ()
    note: str = ""

    def __post_init__(self) -> None:
        require_sources(self.sources, "site values")


@dataclass(frozen=True, slots=True)
class Sequence:
    """Several sprays: how many, days between, in which order of controls, over how many seasons."""

    sprays: int | None = None
    interval_days: tuple[int, int] | None = None
    order: tuple[str, ...] = ()
    seasons: int | None = None


@dataclass(frozen=True, slots=True)
class Response:
    """What a control does to the weed, as one source rated it.

    ``result``: excellent, good, fair, poor, none, or listed (named as an option without a grade).
    ``percent``: control
    in percent as (low, high). ``judged_weeks``: when the rating was taken, in weeks after the first
    application.
    ``in_turf``: turfs in which it was seen (empty = not stated). ``rate``: low, label, high, above_label.
    """

    control: str
    result: str
    sources: tuple[str, ...]
    timing: str = "post_emergence"
    stages: tuple[str, ...] = ()
    months: tuple[Window, ...] = ()
    percent: tuple[float, float] | None = None
    judged_weeks: float | None = None
    sequence: Sequence | None = None
    in_turf: tuple[str, ...] = ()
    sites: tuple[str, ...] = ()
    rate: str | None = None
    adjuvant: str = ""
    susceptible_only: bool = False
    year: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        require_sources(self.sources, f"response to {self.control}")


@dataclass(frozen=True, slots=True)
class OnlyNonSelective:
    """A dated statement that no selective control exists for the weed in this turf (or any_warm_season,
    any_cool_season, any).
    """

    turf: str
    why: str
    sources: tuple[str, ...]
    year: str = ""
    sites: tuple[str, ...] = ()
    holds: bool = True
    next_step: str = ""

    def __post_init__(self) -> None:
        require_sources(self.sources, f"only non-selective in {self.turf}")


@dataclass(frozen=True, slots=True)
class LookAlike:
    """Another weed (or a turf) that is confused with this one, what tells them apart, and by which traits."""

    weed: str
    tell: str
    sources: tuple[str, ...]
    traits: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        require_sources(self.sources, f"look-alike {self.weed}")


@dataclass(frozen=True, slots=True)
class Caution:
    """A warning about a topic of the vocabulary (people, pets, trees, water, …)."""

    about: str
    text: str
    sources: tuple[str, ...]

    def __post_init__(self) -> None:
        require_sources(self.sources, f"caution about {self.about}")


@dataclass(frozen=True, slots=True)
class Spread:
    """How the weed comes back: by seed, rhizomes, stolons, tubers, bulbs, fragments, crown."""

    by: tuple[str, ...]
    sources: tuple[str, ...]
    note: str = ""

    def __post_init__(self) -> None:
        require_sources(self.sources, "spread")


@dataclass(frozen=True, slots=True)
class Abundance:
    """How common the weed is in a region: common, occasional, rare, absent."""

    region: str
    how: str
    sources: tuple[str, ...]

    def __post_init__(self) -> None:
        require_sources(self.sources, f"abundance in {self.region}")


@dataclass(frozen=True, slots=True)
class Code:
    """A plant code; ``kind`` is usda or eppo. Codes from memory are hidden unless asked for."""

    kind: str
    value: str
    sources: tuple[str, ...]

    def __post_init__(self) -> None:
        require_sources(self.sources, f"{self.kind} code")


@dataclass(frozen=True, slots=True)
class Weed:
    """One weed. ``looks`` maps a trait id to the states seen. ``turf`` is the id of the same grass kept as
    turf elsewhere.
    """

    id: str
    name: str
    scientific: str
    family: str
    group: str
    growth_season: str
    life_cycles: tuple[LifeCycle, ...]
    looks: Mapping[str, tuple[Seen, ...]]
    also_called: tuple[str, ...] = ()
    former_scientific: tuple[str, ...] = ()
    former_ids: tuple[str, ...] = ()
    turf: str | None = None
    codes: tuple[Code, ...] = ()
    regions: tuple[Abundance, ...] = ()
    calendar: tuple[CalendarRow, ...] = ()
    spread: Spread | None = None
    wetland: tuple[Wetland, ...] = ()
    signs: tuple[Sign, ...] = ()
    not_a_sign: tuple[Caution, ...] = ()
    site_values: SiteValues | None = None
    responses: tuple[Response, ...] = ()
    only_non_selective: tuple[OnlyNonSelective, ...] = ()
    look_alikes: tuple[LookAlike, ...] = ()
    cautions: tuple[Caution, ...] = ()
    nuisance: int = 2
    note: str = ""
    local: bool = field(default=False)
    seen: tuple[Sighting, ...] = ()

    @property
    def is_annual(self) -> bool:
        """True if every source that states a life cycle calls the plant an annual."""
        return bool(self.life_cycles) and all("annual" in cycle.kind for cycle in self.life_cycles)

    @property
    def is_perennial(self) -> bool:
        """True if any source calls the plant a perennial or a biennial: the cautious reading for a
        treatment.
        """
        return any(cycle.kind in ("perennial", "biennial") for cycle in self.life_cycles)
