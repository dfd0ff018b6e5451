"""Words for the rules of ``weedkey.control``: gates, verdicts, thresholds, rows.

Most are one template a rule; ``{fact}`` is a fact of the step in names that people use.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from weedkey.model.trace import Step
from weedkey.report.dates import day_words
from weedkey.report.namer import Namer
from weedkey.report.style import join_words, words_of
from weedkey.report.wording_form import Words
from weedkey.report.wording_gates import TEMPLATES


class _Facts(dict[str, str]):
    """Facts of a step as words; one that was not recorded reads "not known" rather than failing."""

    def __missing__(self, key: str) -> str:
        return "not known"


def fill(template: str, step: Step, namer: Namer) -> str:
    """The template with the facts of the step filled in."""
    text = template.format_map(_Facts({name: _shown(value, namer) for name, value in step.facts.items()}))
    # A rule without terms of its own leaves nothing after its colon.
    return text.rstrip(" :")


def _shown(value: object, namer: Namer) -> str:
    if isinstance(value, date):
        return day_words(value)
    if isinstance(value, str | int | float | bool) or value is None:
        return namer.any(value)
    if isinstance(value, list | tuple):
        return join_words([_shown(item, namer) for item in value]) or "none"
    return str(value)


def _from_template(template: str) -> Words:
    return lambda step, namer: fill(template, step, namer)


def _turf_row(step: Step, namer: Namer) -> str:
    result = {"not_labelled": "not labelled", "caution": "with care"}.get(str(step.facts["result"]))
    when = step.facts.get("when")
    stated = when_words(when, namer) if isinstance(when, Mapping) else ""
    text = result or str(step.facts["result"])
    if step.facts.get("listed"):
        text += " (listed, not graded)"
    if stated:
        text += f" when {stated}"
    if step.facts.get("year"):
        text += f", {step.facts['year']}"
    return text + {"true": "", "false": " — does not hold here", "not_known": " — not known here"}[step.outcome]


def when_words(when: Mapping[Any, Any], namer: Namer) -> str:
    """The conditions of a tolerance row in one phrase."""
    labels = {
        "growth": "the turf is",
        "stand": "the stand is",
        "cultivars": "the cultivar is",
        "not_cultivars": "the cultivar is not",
        "sites": "on",
        "regions": "in",
        "months": "in",
        "air_above_f": "the air is above (°F)",
        "air_below_f": "the air is below (°F)",
        "rate": "the rate is",
        "mixed_with": "mixed with",
        "timing": "used",
        "stand_min_days": "the stand is older than (days)",
    }
    return "; ".join(
        f"{labels.get(str(key), words_of(str(key)))} {_shown(value, namer)}" for key, value in when.items()
    )


def _response_row(step: Step, namer: Namer) -> str:
    facts = step.facts
    text = "listed, not graded" if step.outcome == "listed" else step.outcome
    percent: Any = facts.get("percent")
    if percent:
        low, high = percent
        text += f", {low:g} %" if low == high else f", {low:g} to {high:g} %"
    if facts.get("stages"):
        text += ", " + _shown(facts["stages"], namer) + " plants"
    if facts.get("judged_weeks"):
        text += f", judged {facts['judged_weeks']:g} weeks later"
    if facts.get("in_turf"):
        text += ", in " + _shown(facts["in_turf"], namer)
    if facts.get("sprays"):
        text += f", {facts['sprays']} sprays"
    return text


def _look_first(step: Step, namer: Namer) -> str:
    each: Any = step.facts.get("each")
    if not each:
        return "The plants that it may be call for different treatments: settle the name before anything is done."
    kinds = join_words([f"{namer.weed(row['weed'])}: {words_of(row['kind'])}" for row in each if row["kind"]])
    return f"Settle the name first, because the treatment hangs on it ({kinds})."


def _would_change(step: Step, namer: Namer) -> str:
    control = namer.control(str(step.facts["control"]))
    gates: Any = step.facts["gates"]
    shut = join_words([words_of(str(gate)) for gate in gates])
    return f"{control} ({step.facts['result']} on it) would come next if its gates opened: {shut}."


def _statement(step: Step, namer: Namer) -> str:
    stated = str(step.facts.get("year") or "")
    year = f" (guidance of {stated})" if any(letter.isdigit() for letter in stated) else " (no year given)"
    start = "Nothing selective is known" if step.outcome == "holds" else "Once said, and overturned since"
    text = f"{start} for {namer.weed(str(step.facts['weed']))} in {namer.turf(str(step.facts['turf']))}{year}: "
    text += str(step.facts["why"]).rstrip(".") + "."
    if step.facts.get("next_step"):
        text += f" Next: {str(step.facts['next_step']).rstrip('.')}."
    return text


_COUNTS = {
    "desirable": "wanted turf",
    "weeds": "weeds",
    "dead": "dead or bare ground",
    "bare_or_weedy": "bare or weedy ground",
    "thatch_in": "thatch in inches",
}


def _threshold(step: Step, namer: Namer) -> str:
    what = _COUNTS[str(step.facts["counts"])]
    value, limit = step.facts["value"], step.facts["limit"]
    side = "under" if step.facts["counts"] == "desirable" else "over"
    says = {"renovate": "start again", "overseed": "overseed"}[str(step.facts["says"])]
    year = f", {step.facts['year']}" if step.facts.get("year") else ""
    rule = f"{says} with {what} {side} {limit:g}{'' if what.startswith('thatch') else ' %'}{year}"
    if step.outcome == "not_known":
        return f"{rule}: not known here"
    here = {"fires": "it fires", "near": "near", "no": "it does not fire"}[step.outcome]
    return f"{rule}: here {namer.any(value)}, {here}"


RULES: dict[str, Words] = {
    **{rule: _from_template(template) for rule, template in TEMPLATES.items()},
    "turf.row": _turf_row,
    "weed_response.row": _response_row,
    "verdict.look_first": _look_first,
    "verdict.would_change": _would_change,
    "verdict.statement": _statement,
    **{
        f"threshold.{name}": _threshold
        for name in (
            "desirable_under_50_clemson",
            "desirable_under_50_kentucky",
            "weeds_over_50_maryland",
            "desirable_under_30_rutgers",
            "weeds_over_40_to_50_minnesota",
            "dead_over_40_to_50_minnesota",
            "bare_or_weedy_20_minnesota",
            "thatch_minnesota",
        )
    },
}
