"""Words for the rules of ``weedkey.key``."""

from __future__ import annotations

from weedkey.report.wording_form import Words

RULES: dict[str, Words] = {}
