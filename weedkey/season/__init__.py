"""When: climate of a place, soil, growth of the turf, frost, germination and pre-emergence windows, closing spots."""

from __future__ import annotations

from weedkey.season.climate import daily_temperature, mean_temperature_f
from weedkey.season.frost import first_autumn_frost_or_none, frost_dates, last_spring_frost_or_none
from weedkey.season.growth import (
    dormancy_or_none,
    green_up_or_none,
    growth_potential,
    growth_state,
    last_green_up_or_none,
)
from weedkey.season.heat_sum import date_of_degree_days_or_none, degree_days
from weedkey.season.own_record import OwnTemperatures, parse_daily_temperatures
from weedkey.season.recovery import advise_repair, close_spot
from weedkey.season.soil import soil_temperature_f
from weedkey.season.windows import germination_windows, is_barrier_alive, pre_emergence_windows

__all__ = [
    "OwnTemperatures",
    "advise_repair",
    "close_spot",
    "daily_temperature",
    "date_of_degree_days_or_none",
    "degree_days",
    "dormancy_or_none",
    "first_autumn_frost_or_none",
    "frost_dates",
    "germination_windows",
    "green_up_or_none",
    "growth_potential",
    "growth_state",
    "is_barrier_alive",
    "last_green_up_or_none",
    "last_spring_frost_or_none",
    "mean_temperature_f",
    "parse_daily_temperatures",
    "pre_emergence_windows",
    "soil_temperature_f",
]
