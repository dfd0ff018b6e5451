"""Application records: the fields of the state, filled from the plan; what is empty and mandatory is flagged."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cache

import pytest

from weedkey.knowledge import load
from weedkey.knowledge.lawn_file import read_lawn
from weedkey.knowledge.locate import shipped_folder
from weedkey.model.base import Knowledge
from weedkey.model.lawn import LabelRate
from weedkey.plan.planner import make_plan
from weedkey.plan.record import plan_records
from weedkey.plan.record_fields import NOTICE_RULES, RECORD_RULES
from weedkey.plan.results import Plan


@cache
def knowledge() -> Knowledge:
    """The shipped knowledge."""
    return load()


@cache
def tennessee() -> Plan:
    """A plan in Tennessee."""
    return make_plan(knowledge(), read_lawn(shipped_folder() / "demo" / "tennessee_zoysiagrass.yaml", knowledge()))


def test_every_chemical_of_the_plan_gets_a_record() -> None:
    """One record for each application of a chemical; measures without chemistry need none."""
    chemical = [a for v in tennessee().visits for a in v.actions if knowledge().controls[a.control].is_chemical]
    assert [record.action for record in plan_records(knowledge(), tennessee())] == chemical


def test_tennessee_asks_for_the_dilution_and_it_is_empty() -> None:
    """Every custom application: dilution in percent, kept two years. Source: Tennessee record rule (TN-REC)."""
    record = plan_records(knowledge(), tennessee())[0]
    (rule,) = [row for row in record.rules if row.rule.id == "tennessee"]
    assert "dilution in percent" in [row.field.name for row in rule.empty]
    assert "target weed" not in [row.field.name for row in rule.empty]
    assert rule.keep_until is not None
    assert rule.keep_until.year == record.visit.first.year + 2


def test_what_is_typed_fills_the_record() -> None:
    """A typed product and applicator are no longer missing; the typed rate gives rate and total."""
    plan = tennessee()
    control = next(a.control for v in plan.visits for a in v.actions if knowledge().controls[a.control].is_chemical)
    lawn = replace(plan.lawn, label_rates=(LabelRate(control, 1.0, "fl oz", "1000 sq ft"),))
    record = plan_records(
        knowledge(), replace(plan, lawn=lawn), typed={"applicator": "A. Person", "certificate": "123", "product": "P"}
    )[0]
    (rule,) = [row for row in record.rules if row.rule.id == "tennessee"]
    missing = {row.field.name for row in rule.empty}
    assert "applicator's name and certification number" not in missing
    assert "product name on the label" not in missing
    assert "total amount of product before mixing" not in missing


def test_a_state_that_was_not_read_says_so() -> None:
    """Only the federal rule and good practice are shown, and that nothing was read of the state."""
    record = plan_records(knowledge(), tennessee(), "WY")[0]
    assert not record.known
    assert [row.rule.id for row in record.rules] == ["federal_restricted", "good_practice"]


def test_a_leap_day_record_is_kept_to_the_end_of_february() -> None:
    """29 February 2024 and two years is 28 February 2026."""
    plan = tennessee()
    visit = replace(plan.visits[0], first=date(2024, 2, 29))
    record = plan_records(knowledge(), replace(plan, visits=(visit,)), "TN")[0]
    (rule,) = [row for row in record.rules if row.rule.id == "tennessee"]
    assert rule.keep_until == date(2026, 2, 28)


# Sources: Georgia (ga_rec), North Carolina (nc_rec), Tennessee (tn_rec), federal (cfr_171), South Dakota (sd_rec).
@pytest.mark.parametrize(
    ("rule", "years"),
    [("georgia", 2), ("north_carolina", 3), ("tennessee", 2), ("federal_restricted", 2), ("south_dakota", 3)],
)
def test_how_long_a_record_is_kept(rule: str, years: int) -> None:
    """Years of keeping as published."""
    (found,) = [row for row in RECORD_RULES if row.id == rule]
    assert found.keep_years == years


def test_every_rule_names_a_known_source() -> None:
    """No rule without a publication, or the word for custom."""
    for rule in (*RECORD_RULES, *NOTICE_RULES):
        assert rule.sources
        assert all(source in knowledge().sources or source == "common_practice" for source in rule.sources)
