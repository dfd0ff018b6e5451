"""Every rule that the program can apply has a sentence of its own."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import weedkey
from weedkey.control.gates import GATES
from weedkey.control.thresholds import THRESHOLDS
from weedkey.control.verdicts import VERDICT_RULES
from weedkey.knowledge import load
from weedkey.model.trace import Step
from weedkey.report.namer import Namer
from weedkey.report.wording import all_rules, has_words, sentence

PACKAGE = Path(weedkey.__file__).parent


def rules_in_code() -> set[str]:
    """Rule ids written out in the domain packages."""
    found: set[str] = set()
    for name in ("key", "ground", "season", "plan", "control"):
        for file in (PACKAGE / name).rglob("*.py"):
            found |= set(re.findall(r'Step\(\s*"([a-z_]+\.[a-z_0-9]+)"', file.read_text(encoding="utf-8")))
    return found


def test_every_gate_outcome_has_words() -> None:
    """A gate cannot answer in a way that the report cannot say."""
    missing = [f"{gate.id}.{word}" for gate in GATES for word in gate.outcomes if not has_words(f"{gate.id}.{word}")]
    assert missing == []


def test_every_verdict_and_threshold_has_words() -> None:
    """The same for verdicts and for the published renovation rules."""
    ids = [*VERDICT_RULES, *(f"threshold.{rule.id}" for rule in THRESHOLDS)]
    assert [rule for rule in ids if not has_words(rule)] == []


def test_every_rule_written_in_the_code_has_words() -> None:
    """Steps of the key, the ground, the season, the plan."""
    assert sorted(rule for rule in rules_in_code() if not has_words(rule)) == []


def test_no_words_stand_without_a_rule() -> None:
    """A sentence that nothing can say any more is removed."""
    known = rules_in_code() | {f"{gate.id}.{word}" for gate in GATES for word in gate.outcomes}
    known |= set(VERDICT_RULES) | {f"threshold.{rule.id}" for rule in THRESHOLDS}
    made = ("plan.owner_", "plan.lawn", "plan.spot", "plan.barrier", "plan.measure", "turf.", "ground.", "threshold.")
    assert sorted(rule for rule in all_rules() if rule not in known and not rule.startswith(made)) == []


@pytest.mark.parametrize(
    ("step", "said"),
    [
        (
            Step("site.barred", "shut", {"site": "home_lawn", "part": "msma", "terms": ""}),
            "Barred on this site (home lawn)",
        ),
        (Step("air_temperature.above_ceiling", "shut", {"air_high_f": 92.04, "limit_f": 90.0}), "a high of 92 °F"),
        (Step("turf.not_known", "shut", {"turf": "bermudagrass"}), "never offered"),
        (Step("key.ask_again", "nothing_hangs_on_one", {"trait": "sap", "states": ("clear",)}), "no single look"),
    ],
    ids=lambda value: value.rule if isinstance(value, Step) else "",
)
def test_sentences_are_plain(step: Step, said: str) -> None:
    """Ids become names, figures lose needless digits."""
    assert said in sentence(step, Namer(load()))


def test_an_unknown_rule_is_shown_rather_than_hidden() -> None:
    """A defect shows as its id and facts."""
    assert sentence(Step("no.such_rule", "open", {"turf": "bermudagrass"}), Namer(load())).startswith("no.such_rule")
