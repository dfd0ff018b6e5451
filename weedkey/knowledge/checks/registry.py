"""All checks, in the order in which they run."""

from __future__ import annotations

from weedkey.knowledge.checks.base import Check

CHECKS: tuple[Check, ...] = ()
