"""Every control on one turf: safe, caution, injures, not_labelled or not_known, with the conditions and the sources."""

from __future__ import annotations

from weedkey.control.gatebook import GateBook, open_book
from weedkey.control.gates.law import SiteGate
from weedkey.control.results import TurfControl
from weedkey.control.setting import Setting
from weedkey.control.tolerance import ToleranceReading, read_tolerance, stated
from weedkey.errors import UnknownName
from weedkey.model.base import Knowledge
from weedkey.model.control import Control
from weedkey.model.trace import Step

_ORDER = ("safe", "caution", "injures", "not_labelled", "not_known")


def turf_table(knowledge: Knowledge, setting: Setting) -> tuple[TurfControl, ...]:
    """Every chemical control on the setting's turf, safe ones first. A use that is barred on the site is not_labelled.

    Raises UnknownName for a turf that is not known.
    """
    if setting.turf not in knowledge.turfs:
        raise UnknownName("turf", setting.turf)
    book = open_book(knowledge, setting)
    rows = [_row(book, control) for control in knowledge.controls.values() if control.is_chemical]
    return tuple(sorted(rows, key=lambda row: (_ORDER.index(row.tolerance), row.name.lower())))


def _row(book: GateBook, control: Control) -> TurfControl:
    reading = read_tolerance(control, book.setting, book.turf, None)
    site = SiteGate().check(book.question(control, book.use, book.timings(control)[0]))
    is_barred = site.state == "shut" and site.step.rule in ("site.barred", "site.barred_school")
    tolerance = "not_labelled" if is_barred else reading.result
    step = Step(
        f"turf.{reading.result}",
        tolerance,
        {"turf": book.setting.turf, "control": control.id, "site": book.setting.site},
        reading.sources,
        (site.step,),
    )
    return TurfControl(
        control=control.id,
        name=control.name,
        control_class=_class_of(control),
        tolerance=tolerance,
        when=_conditions(reading),
        sources=tuple(dict.fromkeys((*(site.step.sources if is_barred else ()), *reading.sources))),
        site=site.state,
        certain=reading.certain,
        step=step,
        kind=control.kind,
        unknown=reading.unknown,
    )


def _conditions(reading: ToleranceReading) -> tuple[dict[str, object], ...]:
    """The rows that speak, each with its result, its stated conditions and its sources."""
    return tuple(
        {"result": row.row.result, **stated(row.row.when), "sources": list(row.row.sources)} for row in reading.rows
    )


def _class_of(control: Control) -> dict[str, str]:
    found = control.control_class
    return {"hrac": found.hrac, "wssa": found.wssa, "mode": found.mode} if found else {}
