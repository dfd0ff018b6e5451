"""Shared settings of the tests."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("steady", derandomize=True, deadline=None, max_examples=60)
settings.load_profile("steady")
