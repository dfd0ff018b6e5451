"""Everything that a gate may ask about the place, the day and the lawn. ``None`` always means: not known."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from weedkey.model.lawn import LabelRate, PastApplication, Seeding, Tree
from weedkey.model.window import Window


@dataclass(frozen=True, slots=True)
class Setting:
    """One turf on one day. A setting holds values only (it is hashable); ``plan.situation`` builds it from
    a lawn.

    ``air_high_f``, ``air_low_f``: the day's high and low in °F, from a forecast or from the place's normals.
    ``hours_to_rain``, ``hours_to_irrigation``: hours from the end of the work. ``weed_stage``: stage of the
    weed in
    hand. ``air_spread_f``: how far a day may differ from the temperatures given (0 for a forecast, more for
    normals). ``spot``: only the plant or patch is to be treated. ``barrier_windows``: (weed id, first day,
    last day) of
    the pre-emergence window worked out for this place; it replaces the rough window of the weed's calendar.
    ``trees`` empty = there are none; ``seedings`` and ``history`` empty = none are recorded.
    """

    turf: str
    on: date
    site: str | None = None
    region: str | None = None
    place_id: str | None = None
    state: str = ""
    southern: bool = False
    cultivar: str | None = None
    stand: str | None = "established"
    stand_age_days: int | None = None
    mowings_since_seeding: int | None = None
    growth: str | None = None
    days_since_green_up: int | None = None
    air_high_f: float | None = None
    air_low_f: float | None = None
    soil_temperature_f: float | None = None
    wind_mph: float | None = None
    hours_to_rain: float | None = None
    hours_to_irrigation: float | None = None
    irrigation_days_a_week: float | None = None
    days_since_mowing: float | None = None
    days_to_mowing: float | None = None
    weed_stage: str | None = None
    trees: tuple[Tree, ...] | None = None
    under_trees: bool | None = None
    well: bool | None = None
    water_distance_ft: float | None = None
    seedings: tuple[Seeding, ...] = ()
    history: tuple[PastApplication, ...] = ()
    label_rates: tuple[LabelRate, ...] = ()
    paid: bool | None = None
    licensed: bool | None = None
    children: bool | None = None
    pets: bool | None = None
    soil_ph: float | None = None
    spot: bool = False
    barrier_windows: tuple[tuple[str, date, date], ...] = ()
    air_spread_f: float = 0.0

    def holds(self, window: Window) -> bool:
        """True if the day lies in a window of the calendar; turned over by half a year south of the
        equator.
        """
        return (window.shifted_half_a_year() if self.southern else window).holds(self.on)

    def window_here(self, window: Window) -> Window:
        """The window as it falls at this place."""
        return window.shifted_half_a_year() if self.southern else window
