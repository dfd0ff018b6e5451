"""What the ground says, in words and bars: by zone, with who says so, what speaks against it, the test, the remedy."""

from __future__ import annotations

from collections.abc import Iterable

from weedkey.ground.lime import LimeAdvice
from weedkey.ground.results import ConditionReading, GroundReport, SignReading, ZoneReport
from weedkey.model.base import Knowledge
from weedkey.report.namer import Namer
from weedkey.report.references import References
from weedkey.report.style import EVIDENCE_BARS, Style, join_words, words_of
from weedkey.report.wording import sentence

EVIDENCE_WORDS = {"none": "nothing", "hint": "a hint", "likely": "likely", "measured": "measured"}


def ground_text(knowledge: Knowledge, report: GroundReport, style: Style) -> str:
    """Every zone, then the sources."""
    namer, refs = Namer(knowledge), References(knowledge)
    blocks = [zone_text(zone, namer, refs, style) for zone in report.zones]
    if len(report.wettest_first) > 1:
        blocks.append(style.wrap("Wettest zone first, by its plants: " + ", ".join(report.wettest_first) + "."))
    blocks.append(
        style.wrap(
            "Weeds are clues, never proof: two independent signs, or one sign and a measurement, before money is spent."
        )
    )
    blocks.append("\n".join([style.strong("Sources"), *(style.wrap(line, "  ", "      ") for line in refs.lines())]))
    return "\n\n".join(blocks)


def zone_text(zone: ZoneReport, namer: Namer, refs: References, style: Style) -> str:
    """One zone: conditions with evidence, wetness in figures, acidity, the next test."""
    lines = [style.strong(zone.zone)]
    shown = [
        reading for reading in zone.conditions if reading.evidence != "none" or (reading.against and reading.signs)
    ]
    for reading in shown:
        lines += _condition_lines(reading, namer, refs, style)
    if not shown:
        lines.append("  The weeds here say nothing of the ground.")
    lines.append(style.bullet(f"wetness: {sentence(zone.wetness.step, namer)} {refs.mark(zone.wetness.sources)}"))
    if zone.wetness.dominance_percent is not None:
        passes = "over half" if zone.wetness.dominance_passes else "not over half"
        share = f"{float(zone.wetness.dominance_percent):.0f} % of the leading plants are wetland plants, {passes}"
        lines.append(style.bullet(f"dominance test: {share}", indent="      "))
    lines += _axis_lines(zone, refs, style)
    lines += _lime_lines(zone.lime, namer, refs, style)
    if zone.sulfur.kind != "none":
        lines.append(style.bullet(sentence(zone.sulfur.step, namer) + " " + refs.mark(zone.sulfur.step.sources)))
    if zone.next_test and zone.next_test_for:
        test = zone.next_test
        what = namer.condition(zone.next_test_for)
        lines.append(style.bullet(f"test next, for {what}: {test.name} ({test.minutes:g} min, {test.money})"))
    return "\n".join(lines)


#: Axes of Ellenberg-type values with the ends of their scales (Pignatti and others, 2005: pign05).
_AXES = {
    "moisture": "1 dry to 12 water",
    "reaction": "1 acid to 9 alkaline",
    "nutrients": "1 poor to 9 rich",
    "light": "1 deep shade to 12 full sun",
}


def _axis_lines(zone: ZoneReport, refs: References, style: Style) -> Iterable[str]:
    """The second opinion: what the same plants stand for in another flora, with spread and what says nothing."""
    shown = [axis for axis in zone.site_values if axis.axis in _AXES and axis.mean is not None]
    if not shown:
        return
    parts = []
    for axis in shown:
        spread = f" ± {axis.spread:.1f}" if axis.spread is not None else ""
        parts.append(
            f"{axis.axis} {axis.mean:.1f}{spread} ({_AXES[axis.axis]}; {axis.indifferent_percent:.0f} % indifferent)"
        )
    sources = dict.fromkeys(source for axis in shown for source in axis.sources)
    yield style.bullet(f"second opinion, values of the Italian flora: {'; '.join(parts)} {refs.mark(sources)}")


def _condition_lines(reading: ConditionReading, namer: Namer, refs: References, style: Style) -> Iterable[str]:
    bar = EVIDENCE_BARS[reading.evidence]
    yield f"  {bar} {namer.condition(reading.condition)}: {EVIDENCE_WORDS[reading.evidence]}"
    for sign in reading.signs:
        yield style.bullet(f"{sign_words(sign, namer)} {refs.mark(sign.sources)}", indent="      ")
    for value in reading.measured:
        yield style.bullet(
            f"measured: {words_of(value.what)} {value.value}: {value.says} {refs.mark(value.sources)}", indent="      "
        )
    for item in reading.against:
        text = f"against: {_against_words(item.kind, item.about, namer)}"
        note = f" ({namer.any(item.note)})" if item.note else ""
        yield style.bullet(f"{text}{note} {refs.mark(item.sources)}", indent="      ")
    for weed in dict.fromkeys(weed for sign in reading.signs for weed in sign.weeds):
        entry = namer.knowledge.weeds.get(weed)
        for caution in entry.not_a_sign if entry else ():
            yield style.bullet(f"{namer.weed(weed)}: {caution.text} {refs.mark(caution.sources)}", "!", "      ")
    if reading.test:
        yield style.bullet(f"test: {reading.test.name}: {reading.test.how} {reading.test.settles}", indent="      ")
    word = "remedy" if reading.may_spend else "remedy, once it is confirmed"
    for remedy in reading.remedies:
        yield style.bullet(
            f"{word}: {namer.control(remedy.control)}: {remedy.why} {refs.mark(remedy.sources)}", indent="      "
        )
    if reading.evidence in ("likely", "measured"):
        yield style.bullet(f"if nothing changes, the weed {reading.if_nothing_changes}", indent="      ")


def sign_words(sign: SignReading, namer: Namer) -> str:
    """A sign with how much it weighs, and why a second one of its kind does not count."""
    names = join_words([namer.weed(weed) for weed in sign.weeds], "or")
    counts = "" if sign.counts else "; counted once with its kind"
    note = f"; {sign.note}" if sign.note else ""
    return f"sign: {names}, {sign.cover_percent:g} % of the zone{counts}{note}"


def _against_words(kind: str, about: str, namer: Namer) -> str:
    return {
        "source": f"another source denies it for {namer.any(about)}",
        "opposite": f"{namer.any(about)} points the other way",
        "measurement": f"the measurement of {words_of(about)} says no",
        "unreliable": f"the reading of {words_of(about)} settles nothing; ask a laboratory",
    }.get(kind, namer.any(about))


def _lime_lines(advice: LimeAdvice, namer: Namer, refs: References, style: Style) -> Iterable[str]:
    yield style.bullet(f"acidity: {sentence(advice.step, namer)} {refs.mark(advice.step.sources)}")
    if advice.kind != "lime" or advice.lb_per_1000_sqft is None:
        return
    yield style.bullet(f"in all {float(advice.lb_per_1000_sqft):.0f} lb per 1000 sq ft", indent="      ")
    for part in advice.applications:
        low, high = part.months_after
        when = "now" if high == 0 else f"after {low} to {high} months" if low != high else f"after {low} months"
        retest = ", after a new soil test" if part.retest_first else ""
        yield style.bullet(f"{float(part.lb_per_1000_sqft):.0f} lb per 1000 sq ft {when}{retest}", indent="      ")


def zone_page(knowledge: Knowledge, zone: ZoneReport, style: Style) -> str:
    """One zone with its sources."""
    namer, refs = Namer(knowledge), References(knowledge)
    text = zone_text(zone, namer, refs, style)
    sources = [style.wrap(line, "  ", "      ") for line in refs.lines()]
    return "\n".join([text, "", style.strong("Sources"), *sources])


#: From this width a zone by condition grid fits.
GRID_WIDTH = 100


def ground_grid(report: GroundReport, namer: Namer, style: Style) -> str:
    """Zones by conditions with bars, or a list by zone on a narrow screen; conditions without evidence are left out."""
    seen = [c.condition for c in report.zones[0].conditions] if report.zones else []
    shown = [name for name in seen if any(_evidence(zone, name) != "none" for zone in report.zones)]
    if not shown:
        return "The weeds entered so far say nothing of the ground."
    if style.width < GRID_WIDTH:
        return "\n".join(_zone_list(zone, shown, namer) for zone in report.zones)
    first = max(len(namer.condition(name)) for name in shown) + 2
    column = max(10, (style.width - first) // len(report.zones))
    lines = [" " * first + "".join(zone.zone[: column - 1].ljust(column) for zone in report.zones)]
    for name in shown:
        cells = (_evidence(zone, name) for zone in report.zones)
        row = "".join(f"{EVIDENCE_BARS[e]} {EVIDENCE_WORDS[e]}"[: column - 1].ljust(column) for e in cells)
        lines.append(namer.condition(name).ljust(first) + row)
    return "\n".join(lines)


def _evidence(zone: ZoneReport, condition: str) -> str:
    return next((reading.evidence for reading in zone.conditions if reading.condition == condition), "none")


def _zone_list(zone: ZoneReport, shown: list[str], namer: Namer) -> str:
    rows = [(name, _evidence(zone, name)) for name in shown]
    lines = [f"  {EVIDENCE_BARS[e]} {namer.condition(name)}: {EVIDENCE_WORDS[e]}" for name, e in rows if e != "none"]
    return "\n".join([zone.zone, *(lines or ["  nothing"])])


def lime_text(knowledge: Knowledge, advice: LimeAdvice, style: Style) -> str:
    """Advice on lime with every target side by side, bags, and when it will show."""
    namer, refs = Namer(knowledge), References(knowledge)
    lines = list(_lime_lines(advice, namer, refs, style))
    if advice.kind == "lime":
        low, high = advice.shows_after_months
        if advice.tons_per_acre is not None:
            lines.append(style.bullet(f"{float(advice.tons_per_acre):.2f} US tons per acre"))
        if advice.bags is not None:
            lines.append(style.bullet(f"{advice.bags} bags for this area"))
        lines.append(style.bullet(f"it begins to show after {low} to {high} months"))
        kind = {"ask": "dolomitic or calcitic: ask whether magnesium is low"}.get(advice.lime_type, advice.lime_type)
        lines.append(style.bullet(f"lime: {kind}"))
    lines.append("Target pH by source:")
    for row in advice.target.rows:
        below = f", lime only below {row.lime_only_below:g}" if row.lime_only_below else ""
        lines.append(style.bullet(f"{row.low:g} to {row.high:g}{below} {refs.mark(row.sources)}"))
    lines += ["", style.strong("Sources"), *(style.wrap(s, "  ", "      ") for s in refs.lines())]
    return "\n".join(lines)
