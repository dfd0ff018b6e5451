"""Numbers that stand in code name sources that the knowledge holds."""

from __future__ import annotations

import re
from pathlib import Path

from shipped_cases import shipped

import weedkey.control
from weedkey.control import general_rules
from weedkey.control.thresholds import THATCH_SOURCES, THRESHOLDS
from weedkey.model.source import UNPUBLISHED

FOLDER = Path(weedkey.control.__file__).parent


def test_every_source_id_in_code_is_in_the_list_of_sources() -> None:
    """A source that cannot be looked up is no source."""
    text = Path(general_rules.__file__).read_text(encoding="utf-8")
    groups = re.findall(r"\(((?:\"[a-z0-9_]+\",? ?)+)\)", text)
    named = {name for group in groups for name in re.findall(r"\"([a-z0-9_]+)\"", group)}
    named -= {"st_augustinegrass"}
    named |= {source for rule in THRESHOLDS for source in rule.sources} | set(THATCH_SOURCES)
    assert len(named) > 40
    assert named - set(shipped().sources) - UNPUBLISHED == set()


def test_every_rule_of_thresholds_and_classes_has_a_source() -> None:
    """No number without a source."""
    values = vars(general_rules).values()
    rules = [value for value in values if isinstance(value, general_rules.Rule)]
    rules += [rule for value in values if isinstance(value, tuple) for rule in value if hasattr(rule, "sources")]
    assert len(rules) > 15
    assert all(rule.sources for rule in (*rules, *THRESHOLDS))


def test_ids_in_the_tables_of_actives_are_controls_or_parts() -> None:
    """A misspelt active would silently lose its gate."""
    controls = shipped().controls
    known = set(controls) | {part for control in controls.values() for part in control.parts}
    tables = (
        general_rules.ROOT_ACTIVES,
        general_rules.WATER_BUFFER_FT,
        general_rules.VAPOUR_CEILINGS_F,
        general_rules.NIGHT_STOPS_F,
        general_rules.DAY_STOPS_F,
    )
    assert {active for table in tables for active in table} - known <= {"imazapyr"}
    assert set(general_rules.HIGH_RISK_WEEDS) - set(shipped().weeds) <= {"southern_crabgrass"}


def test_the_conditions_of_measures_are_understood() -> None:
    """Only while …, not while …, barriers, and conditions that are asked: nothing else stands in the entries."""
    words = {gate.rule for control in shipped().controls.values() for gate in control.gates}
    assert words
    assert all(word.startswith(("only_", "not_")) for word in words)


def test_the_domain_code_reads_no_clock_and_no_file() -> None:
    """Choices depend on the knowledge and the setting alone."""
    for path in FOLDER.rglob("*.py"):
        text = path.read_text(encoding="utf-8")
        assert "date.today" not in text, path.name
        assert "open(" not in text.replace("_open(", ""), path.name
