"""The form of a sentence maker."""

from __future__ import annotations

from collections.abc import Callable

from weedkey.model.trace import Step
from weedkey.report.namer import Namer

Words = Callable[[Step, Namer], str]
