"""A turf: the grass that is to win."""

from __future__ import annotations

from dataclasses import dataclass, field

from weedkey.model.source import Sighting, require_sources
from weedkey.model.window import Window


@dataclass(frozen=True, slots=True)
class Range:
    """A figure as one source gives it: low to high with its unit; equal ends for a single figure."""

    low: float
    high: float
    unit: str
    sources: tuple[str, ...]
    note: str = ""

    def __post_init__(self) -> None:
        require_sources(self.sources, f"range {self.low}-{self.high} {self.unit}")
        if self.low > self.high:
            raise ValueError(f"range {self.low}-{self.high} {self.unit} is upside down")


@dataclass(frozen=True, slots=True)
class SoilPh:
    """Target soil pH by one source; ``lime_only_below`` where the source says so."""

    low: float
    high: float
    sources: tuple[str, ...]
    lime_only_below: float | None = None
    year: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        require_sources(self.sources, "soil pH")


@dataclass(frozen=True, slots=True)
class Nitrogen:
    """Nitrogen in lb N per 1000 sq ft: for a window of the year, or for the whole year if ``window`` is
    None.
    """

    low: float
    high: float
    sources: tuple[str, ...]
    window: Window | None = None
    regions: tuple[str, ...] = ()
    note: str = ""

    def __post_init__(self) -> None:
        require_sources(self.sources, "nitrogen")


@dataclass(frozen=True, slots=True)
class SpreadRate:
    """How fast the turf closes bare ground.

    ``what``: tip_growth (mm a day of one runner), gap_closing (mm a day of a spot's edge), cover_gain
    (percentage
    points a day) or cover_after (percent cover after ``days``). ``peak``: measured in the best growing weeks.
    """

    what: str
    low: float
    high: float
    sources: tuple[str, ...]
    days: int | None = None
    months: Window | None = None
    cultivar: str | None = None
    peak: bool = True
    context: str = ""

    def __post_init__(self) -> None:
        require_sources(self.sources, f"spread rate {self.what}")


@dataclass(frozen=True, slots=True)
class Cultivar:
    """A cultivar that matters for tolerance or spread; ``note`` says why."""

    id: str
    name: str
    sources: tuple[str, ...]
    note: str = ""

    def __post_init__(self) -> None:
        require_sources(self.sources, f"cultivar {self.name}")


@dataclass(frozen=True, slots=True)
class Establish:
    """A way to bring the turf in (seed, sprigs, plugs, sod) and when, by region."""

    method: str
    window: Window
    sources: tuple[str, ...]
    regions: tuple[str, ...] = ()
    note: str = ""

    def __post_init__(self) -> None:
        require_sources(self.sources, f"establish by {self.method}")


@dataclass(frozen=True, slots=True)
class Turf:
    """One turfgrass. ``season`` is warm or cool. ``habit``: stolons, rhizomes, bunch (several may hold)."""

    id: str
    name: str
    scientific: str
    season: str
    habit: tuple[str, ...]
    sources: tuple[str, ...]
    also_called: tuple[str, ...] = ()
    former_ids: tuple[str, ...] = ()
    mowing_in: tuple[Range, ...] = ()
    soil_ph: tuple[SoilPh, ...] = ()
    nitrogen: tuple[Nitrogen, ...] = ()
    sun_hours: tuple[Range, ...] = ()
    grows_f: tuple[Range, ...] = ()
    dormant_below_f: tuple[Range, ...] = ()
    spread_rates: tuple[SpreadRate, ...] = ()
    cultivars: tuple[Cultivar, ...] = ()
    establish: tuple[Establish, ...] = ()
    regions: tuple[str, ...] = ()
    note: str = ""
    local: bool = field(default=False)
    seen: tuple[Sighting, ...] = ()

    def __post_init__(self) -> None:
        require_sources(self.sources, f"turf {self.id}")
