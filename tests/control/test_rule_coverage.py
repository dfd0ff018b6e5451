"""docs/rules.md is the reviewed list of rules: it must name every outcome, and name nothing that does not exist."""

from __future__ import annotations

import re
from pathlib import Path

from weedkey.control.gates import GATES
from weedkey.control.thresholds import THRESHOLDS
from weedkey.control.verdicts import VERDICT_RULES

TEXT = (Path(__file__).parents[2] / "docs" / "rules.md").read_text(encoding="utf-8")
KNOWN = (
    {f"{gate.id}.{word}" for gate in GATES for word in gate.outcomes}
    | set(VERDICT_RULES)
    | {f"threshold.{rule.id}" for rule in THRESHOLDS}
)
#: Packages to which a rule may be handed on.
ELSEWHERE = {"ground", "season", "plan", "report", "knowledge"}


def rows(heading: str) -> list[list[str]]:
    """The cells of the table under a heading."""
    part = TEXT.split(f"## {heading}\n", 1)[1].split("\n## ", 1)[0]
    lines = [line for line in part.splitlines() if line.startswith("| ")]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines[1:]]


def test_every_decision_rule_and_limit_stands_in_the_list() -> None:
    """Ninety-one decision rules and ninety limits, each once."""
    for heading, count in (("Decision rules of the job", 91), ("Limits of site, day and record", 90)):
        ids = [row[0] for row in rows(heading)]
        assert (len(ids), len(set(ids))) == (count, count)


def test_every_rule_is_carried_by_something_that_exists() -> None:
    """A rule names outcomes of gates, verdict rules or thresholds, or says where it is carried, with the reason."""
    for heading, column in (("Decision rules of the job", 1), ("Limits of site, day and record", 2)):
        for row in rows(heading):
            named = re.findall(r"`([^`]+)`", row[column])
            if named:
                assert set(named) <= KNOWN, row
            else:
                place = row[column].removeprefix("out of scope").removeprefix(" here: ").strip()
                assert row[column].startswith("out of scope"), row
                assert place in ELSEWHERE | {""}, row
                assert row[-1], row


def test_every_outcome_of_a_gate_is_listed() -> None:
    """The table of gates is complete and in the order in which they are asked."""
    listed = {row[0].strip("`"): re.findall(r"`([^`]+)`", row[1]) for row in rows("Gates and their outcomes")}
    assert list(listed) == [gate.id for gate in GATES]
    for gate in GATES:
        assert listed[gate.id] == list(gate.outcomes)
    assert all(f"`{rule}`" in TEXT for rule in VERDICT_RULES)


def test_no_gate_is_without_a_published_rule_or_a_reason() -> None:
    """Each gate carries at least one rule of the two lists; the cultivar gate carries tolerance rows only."""
    carried = {name.partition(".")[0] for name in re.findall(r"`([a-z_]+\.[a-z_0-9]+)`", TEXT)}
    assert {gate.id for gate in GATES} - carried == {"cultivar"}
