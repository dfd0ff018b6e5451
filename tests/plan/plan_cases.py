"""Small values for the tests of plans."""

from __future__ import annotations

from weedkey.model.base import Knowledge


def empty_knowledge() -> Knowledge:
    """A knowledge that knows nothing."""
    return Knowledge({}, {}, {}, {}, {}, {}, {})
