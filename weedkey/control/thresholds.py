"""When is a lawn past repair? The published rules disagree: each is judged by itself and shown beside the others."""

from __future__ import annotations

from dataclasses import dataclass

from weedkey.model.trace import Step


@dataclass(frozen=True, slots=True)
class Threshold:
    """One published rule. ``counts`` is what it counts: desirable (turf that is wanted), weeds, bare_or_weedy, dead.

    It fires at ``fires_from`` or above (below for desirable turf); between ``near_from`` and there it is near.
    ``says`` is renovate (kill and start again) or overseed. ``year`` as printed, empty if the source shows none.
    """

    id: str
    counts: str
    fires_from: float
    says: str
    sources: tuple[str, ...]
    near_from: float | None = None
    season: str = ""
    year: str = ""


#: Sources: HGIC 1204; University of Kentucky; Ask Extension (Maryland); Rutgers FS108; University of Minnesota.
THRESHOLDS = (
    Threshold("desirable_under_50_clemson", "desirable", 50, "renovate", ("clem_reno",), year="1999"),
    Threshold("desirable_under_50_kentucky", "desirable", 50, "renovate", ("uky_reno",)),
    Threshold("weeds_over_50_maryland", "weeds", 50, "renovate", ("umd_ask460722",), season="cool"),
    Threshold("desirable_under_30_rutgers", "desirable", 30, "renovate", ("rut_fs108",), season="cool"),
    Threshold("weeds_over_40_to_50_minnesota", "weeds", 50, "renovate", ("umn_reno",), near_from=40),
    Threshold("dead_over_40_to_50_minnesota", "dead", 50, "renovate", ("umn_reno",), near_from=40),
    Threshold("bare_or_weedy_20_minnesota", "bare_or_weedy", 25, "overseed", ("umn_reno_job",), near_from=20),
)
#: Thatch above this, with poor response to care, is a further trigger (University of Minnesota).
THATCH_TRIGGER_IN = 0.75
THATCH_SOURCES = ("umn_reno",)


def judge_cover(
    season: str,
    desirable_percent: float | None = None,
    weeds_percent: float | None = None,
    bare_percent: float | None = None,
    thatch_in: float | None = None,
) -> tuple[Step, ...]:
    """Every published rule for turf of this season (warm or cool), each as a step: fires, near, no or not_known.

    Covers in percent of the ground. A rule that counts what was not given says not_known.
    """
    counted = {
        "desirable": desirable_percent,
        "weeds": weeds_percent,
        "dead": bare_percent,
        "bare_or_weedy": None
        if weeds_percent is None and bare_percent is None
        else (weeds_percent or 0.0) + (bare_percent or 0.0),
    }
    steps = [_judge(rule, counted[rule.counts]) for rule in THRESHOLDS if rule.season in ("", season)]
    if thatch_in is not None:
        outcome = "fires" if thatch_in > THATCH_TRIGGER_IN else "no"
        facts = {"counts": "thatch_in", "value": thatch_in, "limit": THATCH_TRIGGER_IN, "says": "renovate"}
        steps.append(Step("threshold.thatch_minnesota", outcome, facts, THATCH_SOURCES))
    return tuple(steps)


def is_renovation(steps: tuple[Step, ...]) -> bool:
    """True if at least one rule that says renovate fires."""
    return any(step.outcome == "fires" and step.facts.get("says") == "renovate" for step in steps)


def _judge(rule: Threshold, value: float | None) -> Step:
    facts: dict[str, object] = {
        "counts": rule.counts,
        "value": value,
        "limit": rule.fires_from,
        "says": rule.says,
        "year": rule.year,
    }
    return Step(f"threshold.{rule.id}", _outcome(rule, value), facts, rule.sources)


def _outcome(rule: Threshold, value: float | None) -> str:
    if value is None:
        return "not_known"
    if rule.counts == "desirable":
        return "fires" if value < rule.fires_from else "no"
    if value > rule.fires_from or (rule.near_from is not None and value >= rule.fires_from):
        return "fires"
    if rule.near_from is not None and value >= rule.near_from:
        return "near"
    return "no"
