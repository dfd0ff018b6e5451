"""A place: the monthly climate of a location."""

from __future__ import annotations

from dataclasses import dataclass, field

from weedkey.model.source import Sighting, require_sources


@dataclass(frozen=True, slots=True)
class FrostDate:
    """``event``: last_spring or first_autumn; (month, day); ``basis`` as the source states it (mean, 50
    percent, …).
    """

    event: str
    month: int
    day: int
    sources: tuple[str, ...]
    basis: str = ""
    temperature_f: float = 32.0

    def __post_init__(self) -> None:
        require_sources(self.sources, f"frost {self.event}")


@dataclass(frozen=True, slots=True)
class Place:
    """Twelve monthly mean daily highs and lows in °F (January first), latitude and longitude in degrees."""

    id: str
    name: str
    region: str
    latitude: float
    longitude: float
    high_f: tuple[float, ...]
    low_f: tuple[float, ...]
    sources: tuple[str, ...]
    state: str = ""
    wetland_region: str | None = None
    hardiness_zone: str = ""
    hardiness_sources: tuple[str, ...] = ()
    frost: tuple[FrostDate, ...] = ()
    period: str = ""
    also_called: tuple[str, ...] = ()
    note: str = ""
    local: bool = field(default=False)
    seen: tuple[Sighting, ...] = ()

    def __post_init__(self) -> None:
        require_sources(self.sources, f"place {self.id}")
        if len(self.high_f) != 12 or len(self.low_f) != 12:
            raise ValueError(f"place {self.id}: twelve monthly highs and lows are needed")

    @property
    def is_southern(self) -> bool:
        """True south of the equator, where the seasons are half a year later."""
        return self.latitude < 0
