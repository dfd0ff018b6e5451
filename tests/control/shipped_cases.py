"""The shipped knowledge and plain settings for the tests that read it."""

from __future__ import annotations

from datetime import date
from functools import cache
from typing import Any

from weedkey.control import Setting
from weedkey.knowledge import load
from weedkey.model.base import Knowledge


@cache
def shipped() -> Knowledge:
    """The shipped knowledge, read once."""
    return load()


def there(turf: str, **more: Any) -> Setting:
    """An old, established home lawn of a licensed operator in Tennessee, without weather or neighbours."""
    values: dict[str, Any] = {
        "turf": turf,
        "on": date(2025, 6, 20),
        "site": "home_lawn",
        "state": "TN",
        "growth": "growing",
        "stand_age_days": 4000,
        "paid": True,
        "licensed": True,
    }
    return Setting(**(values | more))
