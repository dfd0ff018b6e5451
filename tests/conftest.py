"""Shared settings of the tests."""

from __future__ import annotations

import os

import pytest
from hypothesis import settings

settings.register_profile("steady", derandomize=True, deadline=None, max_examples=60)
settings.load_profile("steady")


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_auto_num_workers() -> int:
    """Three workers for two cores: a test of a screen waits half of its time until nothing moves any more."""
    return max(2, (os.cpu_count() or 1) * 3 // 2)
