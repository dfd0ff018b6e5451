"""Checks of the knowledge: every problem with file, line, column and key, never only the first."""

from __future__ import annotations

from weedkey.knowledge.checks.run import check_all, check_file

__all__ = ["check_all", "check_file"]
