"""Dated statements that a weed has no selective control in a turf, and what it takes to overturn one."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from weedkey.control.setting import Setting
from weedkey.control.tolerance import PERMITS, names_turf
from weedkey.model.base import Knowledge
from weedkey.model.control import Control
from weedkey.model.source import is_published
from weedkey.model.trace import Step
from weedkey.model.weed import OnlyNonSelective, Weed

_YEAR = re.compile(r"(?:19|20)\d\d")


def statements_here(knowledge: Knowledge, weed: Weed, setting: Setting) -> tuple[OnlyNonSelective, ...]:
    """The statements for this turf and site, those that no longer hold included."""
    turf = knowledge.turfs.get(setting.turf)
    season = turf.season if turf else ""
    return tuple(
        row
        for row in weed.only_non_selective
        if names_turf(row.turf, setting.turf, season)
        and (not row.sites or setting.site is None or setting.site in row.sites)
    )


def statement_step(knowledge: Knowledge, weed: Weed, row: OnlyNonSelective, overturned_by: Sequence[str] = ()) -> Step:
    """The statement with its year, for showing; ``holds`` or ``overturned``."""
    dated = row.year if _number(row.year) else str(year_of(knowledge, row.sources) or "")
    facts: dict[str, object] = {
        "weed": weed.id,
        "turf": row.turf,
        "year": dated,
        "why": row.why,
        "next_step": row.next_step,
        "overturned_by": list(overturned_by),
    }
    outcome = "holds" if row.holds and not overturned_by else "overturned"
    return Step("verdict.statement", outcome, facts, row.sources)


def is_overturned(knowledge: Knowledge, weed: Weed, row: OnlyNonSelective, control: Control, turf_id: str) -> bool:
    """True if this selective control, with published tolerance and a published good response, stands against it.

    A published statement falls only to a response with a later year; one from memory falls to any published pair.
    An undated published statement stands: nothing shows that the option came after it.
    """
    turf = knowledge.turfs.get(turf_id)
    season = turf.season if turf else ""
    permits = any(
        r.result in PERMITS and names_turf(r.turf, turf_id, season) and is_published(r.sources)
        for r in control.tolerance
    )
    graded = [
        r
        for r in weed.responses
        if r.control == control.id and r.result in ("excellent", "good") and is_published(r.sources)
    ]
    if not permits or not graded:
        return False
    if not is_published(row.sources):
        return True
    said = _number(row.year) or year_of(knowledge, row.sources)
    later = [_number(r.year) or year_of(knowledge, r.sources) for r in graded]
    return said is not None and any(year is not None and year > said for year in later)


def year_of(knowledge: Knowledge, sources: Iterable[str]) -> int | None:
    """The latest year printed in the sources; None if none shows one."""
    years = [
        year
        for source in sources
        if source in knowledge.sources and (year := _number(knowledge.sources[source].year)) is not None
    ]
    return max(years, default=None)


def _number(text: str) -> int | None:
    """The first year in a text such as ``1997 (study 1995-1996)``; later years there are remarks."""
    found = _YEAR.search(text)
    return int(found.group()) if found else None
