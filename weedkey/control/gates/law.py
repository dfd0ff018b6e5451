"""May this control be used on this site, by this person? Law first, and the label in hand above everything."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from weedkey.control import general_rules as rules
from weedkey.control.gates.base import Gate, Question
from weedkey.control.results import GateResult
from weedkey.model.control import SiteRule


class SiteGate(Gate):
    """Barred, restricted or allowed on this site: the strictest rule over the control and its ingredients."""

    id: ClassVar[str] = "site"
    outcomes: ClassVar[tuple[str, ...]] = (
        "allowed",
        "no_pesticide",
        "barred",
        "barred_school",
        "spot_only",
        "needs_licence",
        "licence_not_known",
        "restricted",
        "site_not_known",
        "state_not_known",
        "not_listed",
        "school_state_not_known",
        "listed_elsewhere",
    )
    without_chemistry: ClassVar[bool] = True

    def check(self, question: Question) -> GateResult:
        """The strictest rule decides; no rule for the site asks, because the label must list the site."""
        if not question.control.is_chemical:
            return self._open("no_pesticide", {})
        site = question.setting.site
        barred = self._school_or_none(question)
        if barred is not None:
            return barred
        if site is None:
            return self._without_site(question)
        found = list(self._rules_here(question))
        results = [self._judge(question, part, rule, certain) for part, rule, certain in found]
        results.append(self._silence_or_open(question, {part for part, _, _ in found}))
        return max(results, key=lambda result: (_SEVERITY[result.state], result.needed))

    def _school_or_none(self, question: Question) -> GateResult | None:
        setting = question.setting
        if setting.site != "school_ground":
            return None
        state = setting.state.upper()
        if state in rules.SCHOOL_BARRED_STATES:
            facts = {"site": setting.site, "state": state}
            return self._shut("barred_school", facts, rules.SCHOOL_BARRED_STATES[state])
        return None

    def _without_site(self, question: Question) -> GateResult:
        """Wait for the site where some kind of lawn bars or narrows the use; a rule of single states only asks."""
        strict = [rule for part in question.parts for rule in part.sites if rule.rule != "allowed"]
        facts = {"sites": sorted({rule.site for rule in strict})}
        sources = tuple(dict.fromkeys(source for rule in strict for source in rule.sources))
        needed = any(
            rule.site in _LAWNS and not rule.states and (rule.rule == "barred" or rule.licence or rule.spot_only)
            for rule in strict
        )
        return self._ask("site_not_known", facts, sources or rules.LABEL_SOURCES, needed=needed)

    def _rules_here(self, question: Question) -> Iterator[tuple[str, SiteRule, bool]]:
        """(part, rule, certain): uncertain where the rule is for some states and the state is not known."""
        setting = question.setting
        state = setting.state.upper()
        for part in question.parts:
            for rule in part.sites:
                if rule.site not in (setting.site, "any"):
                    continue
                if not rule.states:
                    yield part.id, rule, True
                elif not state:
                    yield part.id, rule, False
                elif state in (name.upper() for name in rule.states):
                    yield part.id, rule, True

    def _judge(self, question: Question, part: str, rule: SiteRule, certain: bool) -> GateResult:
        facts: dict[str, object] = {"site": rule.site, "part": part, "year": rule.year, "terms": rule.terms}
        if rule.states:
            facts["states"] = list(rule.states)
        if rule.rule == "allowed":
            return self._open("allowed", facts, rule.sources)
        if not certain:
            return self._ask("state_not_known", facts, rule.sources, needed=True)
        if rule.rule == "barred":
            return self._shut("barred", facts, rule.sources)
        return self._judge_restricted(question, rule, facts)

    def _judge_restricted(self, question: Question, rule: SiteRule, facts: dict[str, object]) -> GateResult:
        licensed = question.setting.licensed
        if rule.licence and licensed is False:
            return self._shut("needs_licence", facts, rule.sources)
        if rule.spot_only and question.use != "spot":
            return self._shut("spot_only", facts, rule.sources)
        if rule.licence and licensed is None:
            return self._ask("licence_not_known", facts, rule.sources, needed=True)
        return self._ask("restricted", facts, rule.sources)

    def _silence_or_open(self, question: Question, with_rule: set[str]) -> GateResult:
        """A rule of its own speaks for a mixture; else each ingredient needs one."""
        setting, control = question.setting, question.control
        needed = {part.id for part in question.parts[1:]} or {control.id}
        facts: dict[str, object] = {"site": setting.site}
        if setting.site == "school_ground" and not setting.state:
            facts["states"] = sorted(rules.SCHOOL_BARRED_STATES)
            return self._ask("school_state_not_known", facts, ("uconn_sch",), needed=True)
        if control.id in with_rule or needed <= with_rule:
            return self._open("allowed", facts)
        elsewhere = self._named_elsewhere(question, with_rule)
        if elsewhere:
            sites = sorted({rule.site for rule in elsewhere})
            sources = tuple(dict.fromkeys(source for rule in elsewhere for source in rule.sources))
            return self._ask("listed_elsewhere", facts | {"sites": sites}, sources, needed=True)
        return self._ask("not_listed", facts, rules.LABEL_SOURCES)

    @staticmethod
    def _named_elsewhere(question: Question, with_rule: set[str]) -> list[SiteRule]:
        """Rules that name other sites as allowed, of a control (or an ingredient) that names none for this one.

        Silence is not safety: a use known from golf or sod only is not offered on another site unasked.
        """
        own = [rule for rule in question.control.sites if rule.rule == "allowed" and not rule.states]
        parts = [question.control] if own else [part for part in question.parts[1:] if part.id not in with_rule]
        return [rule for part in parts for rule in part.sites if rule.rule == "allowed" and not rule.states]


class LicenceGate(Gate):
    """Paid work with any pesticide on another's property needs a licence, general-use weed killers included."""

    id: ClassVar[str] = "licence"
    outcomes: ClassVar[tuple[str, ...]] = ("not_paid", "licensed", "missing", "not_known")
    idle_without: ClassVar[tuple[str, ...]] = ("paid",)

    def check(self, question: Question) -> GateResult:
        """Shut for paid work without a licence."""
        setting = question.setting
        facts: dict[str, object] = {"paid": setting.paid, "licensed": setting.licensed, "state": setting.state}
        sources: tuple[str, ...] = rules.LICENCE_SOURCES
        if setting.state.upper() in rules.QUOTE_STATES:
            facts["quote_is_regulated"] = True
            sources = (*sources, *rules.QUOTE_STATES[setting.state.upper()])
        if setting.paid is False:
            return self._open("not_paid", facts, sources)
        if setting.licensed is True:
            return self._open("licensed", facts, sources)
        if setting.paid and setting.licensed is False:
            return self._shut("missing", facts, sources)
        return self._ask("not_known", facts, sources)


class LabelGate(Gate):
    """The label in hand overrides everything: always asked, never open."""

    id: ClassVar[str] = "label"
    outcomes: ClassVar[tuple[str, ...]] = ("overrides",)
    only_asks: ClassVar[bool] = True

    def check(self, question: Question) -> GateResult:
        """Turf species, site type, dose, interval, yearly maximum and re-entry stand on the label."""
        facts = {"turf": question.setting.turf, "site": question.setting.site}
        return self._ask("overrides", facts, rules.LABEL_SOURCES)


#: Sites that are lawns; without a site one of these is meant, not a golf course, a sod farm or a roadside.
_LAWNS = frozenset({"home_lawn", "commercial_grounds", "school_ground", "sports_field"})
_SEVERITY = {"open": 0, "ask": 1, "shut": 2}
