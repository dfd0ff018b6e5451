"""One weed as text: what it is, its marks, its year, signs, look-alikes, what controls it, who says so."""

from __future__ import annotations

from collections.abc import Iterable

from weedkey.model.base import Knowledge
from weedkey.model.source import is_published
from weedkey.model.weed import CalendarRow, Response, Seen, Weed
from weedkey.model.window import Window
from weedkey.report.dates import day_words, window_words
from weedkey.report.references import References
from weedkey.report.style import Style, join_words, words_of


def weed_text(knowledge: Knowledge, weed: Weed, style: Style, *, codes: bool = False) -> str:
    """The whole entry; ``codes`` also shows plant codes that are from memory."""
    refs = References(knowledge)
    parts = [
        _head(weed, refs, style, codes=codes),
        _section("Marks", _marks(knowledge, weed, refs), style),
        _section("Through the year", _calendar(weed, refs), style),
        _section("A sign of", _signs(knowledge, weed, refs), style),
        _section("Taken for it, and what tells them apart", _look_alikes(knowledge, weed, refs), style),
        _section("What controls do to it", _responses(knowledge, weed, refs), style),
        _section("Where nothing selective exists", _only(knowledge, weed, refs), style),
        _section("Cautions", [f"{c.about}: {c.text} {refs.mark(c.sources)}" for c in weed.cautions], style),
        _share_line(weed, style),
        _section("Sources", refs.lines(), style, mark=""),
    ]
    return "\n\n".join(part for part in parts if part)


def _section(title: str, rows: Iterable[str], style: Style, mark: str = "-") -> str:
    lines = [style.bullet(row, mark) if mark else style.wrap(row, "  ", "      ") for row in rows]
    return "\n".join([style.strong(title), *lines]) if lines else ""


def _head(weed: Weed, refs: References, style: Style, *, codes: bool) -> str:
    lines = [style.strong(f"{weed.name} ({weed.scientific}, {weed.family})")]
    if weed.local:
        seen = "; ".join(f"seen on {day_words(row.on)}, {row.place}" for row in weed.seen)
        lines.append("your own entry (local)" + (f": {seen}" if seen else ""))
    names = [*weed.also_called, *weed.former_scientific]
    if names:
        lines.append("also called: " + ", ".join(names))
    cycles = "; ".join(f"{words_of(c.kind)} {refs.mark(c.sources)}" for c in weed.life_cycles)
    lines.append(f"{words_of(weed.group)}; {cycles}; grows in the {_season(weed.growth_season)}")
    if weed.spread:
        lines.append("spreads by " + join_words(list(weed.spread.by)) + " " + refs.mark(weed.spread.sources))
    if weed.regions:
        lines.append("found: " + ", ".join(f"{words_of(r.region)} ({r.how})" for r in weed.regions))
    shown = [c for c in weed.codes if codes or is_published(c.sources)]
    if shown:
        lines.append("codes: " + ", ".join(f"{c.kind.upper()} {c.value} {refs.mark(c.sources)}" for c in shown))
    if weed.turf:
        lines.append(f"elsewhere this grass is a turf: weedkey turf {weed.turf}")
    if weed.note:
        lines.append(weed.note)
    return "\n".join(style.wrap(line) for line in lines)


def _season(word: str) -> str:
    return {"warm": "warm season", "cool": "cool season", "both": "warm and the cool season"}.get(word, word)


def _marks(knowledge: Knowledge, weed: Weed, refs: References) -> list[str]:
    rows = []
    for trait_id, seen in weed.looks.items():
        trait = knowledge.traits.get(trait_id)
        if trait is None:
            continue
        words = {state.id: state.words for state in trait.states}
        states = "; or ".join(f"{words.get(s.state, s.state)}{_share(s)} {refs.mark(s.sources)}" for s in seen)
        rows.append(f"{words_of(trait_id)}: {states}")
    return rows


def _share(seen: Seen) -> str:
    if seen.share is None or seen.share >= 1:
        return f" ({seen.note})" if seen.note else ""
    note = f", {seen.note}" if seen.note else ""
    return f" ({round(seen.share * 100)} in 100{note})"


def _calendar(weed: Weed, refs: References) -> list[str]:
    rows = []
    for row in weed.calendar:
        where = join_words([words_of(region) for region in row.regions]) if row.regions else "everywhere"
        what = "; ".join(_events(row))
        note = f"; {row.note}" if row.note else ""
        rows.append(f"{where}: {what}{note} {refs.mark(row.sources)}")
    return rows


def _events(row: CalendarRow) -> Iterable[str]:
    for word, windows in (
        ("comes up", row.germinates),
        ("green and growing", row.active),
        ("flowers", row.flowers),
        ("seeds", row.seeds),
    ):
        if windows:
            yield f"{word} {_windows(windows)}"
    if row.germinates_soil_f:
        low, high = row.germinates_soil_f
        yield f"germinates at {low:g} to {high:g} °F in the soil"
    if row.dies and row.dies != "none":
        yield f"ended by {row.dies}"


def _windows(windows: tuple[Window, ...]) -> str:
    return " and ".join(window_words(window) for window in windows)


def _signs(knowledge: Knowledge, weed: Weed, refs: References) -> list[str]:
    rows = []
    for sign in weed.signs:
        condition = knowledge.conditions.get(sign.condition)
        name = condition.name if condition else words_of(sign.condition)
        strength = "" if sign.strength == "not_stated" else f" ({sign.strength})"
        verb = "says the opposite: not " if sign.against else ""
        note = f"; {sign.note}" if sign.note else ""
        rows.append(f"{verb}{name}{strength}{note} {refs.mark(sign.sources)}")
    for wet in weed.wetland:
        doubt = ", doubtful" if wet.doubtful else ""
        year = f", list of {wet.year}" if wet.year else ""
        rows.append(f"wetland status in {words_of(wet.region)}: {wet.status}{year}{doubt} {refs.mark(wet.sources)}")
    rows += [f"not a sign: {caution.text} {refs.mark(caution.sources)}" for caution in weed.not_a_sign]
    return rows


def _look_alikes(knowledge: Knowledge, weed: Weed, refs: References) -> list[str]:
    rows = []
    for other in weed.look_alikes:
        entry = knowledge.weeds.get(other.weed) or knowledge.turfs.get(other.weed)
        name = entry.name if entry else words_of(other.weed)
        rows.append(f"{name}: {other.tell} {refs.mark(other.sources)}")
    return rows


def _responses(knowledge: Knowledge, weed: Weed, refs: References) -> list[str]:
    return [response_line(knowledge, response, refs) for response in weed.responses]


def response_line(knowledge: Knowledge, response: Response, refs: References) -> str:
    """One response as a line: control, grade, percent, timing, when it was judged, note, sources."""
    control = knowledge.controls.get(response.control)
    name = control.name if control else words_of(response.control)
    grade = "listed, not graded" if response.result == "listed" else response.result
    details = list(_response_details(response))
    text = f"{name}: {grade}"
    if details:
        text += " (" + "; ".join(details) + ")"
    return f"{text} {refs.mark(response.sources)}"


def _response_details(response: Response) -> Iterable[str]:
    if response.percent:
        low, high = response.percent
        yield f"{low:g} %" if low == high else f"{low:g} to {high:g} %"
    yield from _response_times(response)
    if response.sequence and response.sequence.sprays:
        yield f"{response.sequence.sprays} sprays"
    if response.in_turf:
        yield "in " + join_words([words_of(turf) for turf in response.in_turf])
    if response.rate and response.rate != "label":
        yield f"{words_of(response.rate)} rate"
    if response.judged_weeks:
        yield f"judged {response.judged_weeks:g} weeks later"
    if response.susceptible_only:
        yield "susceptible populations only"
    if response.note:
        yield response.note


def _response_times(response: Response) -> Iterable[str]:
    if response.timing != "any":
        yield response.timing.replace("_emergence", "-emergence").replace("_", " ")
    if response.stages and response.stages != ("any",):
        yield join_words([words_of(stage) for stage in response.stages], "or")
    if response.months:
        yield _windows(response.months)


def _only(knowledge: Knowledge, weed: Weed, refs: References) -> list[str]:
    rows = []
    for only in weed.only_non_selective:
        turf = knowledge.turfs.get(only.turf)
        name = turf.name if turf else words_of(only.turf)
        dated = f" (guidance of {only.year})" if only.year else ""
        overturned = "" if only.holds else "; a later source overturns this"
        step = f"; next: {only.next_step}" if only.next_step else ""
        rows.append(f"in {name}: {only.why}{dated}{overturned}{step} {refs.mark(only.sources)}")
    return rows


def published_share(weed: Weed) -> tuple[int, int]:
    """(facts with a published source, all facts) of an entry; each sourced row is one fact."""
    rows: list[tuple[str, ...]] = [seen.sources for states in weed.looks.values() for seen in states]
    for group in (
        weed.life_cycles,
        weed.codes,
        weed.regions,
        weed.calendar,
        weed.wetland,
        weed.signs,
        weed.responses,
        weed.only_non_selective,
        weed.look_alikes,
        weed.cautions,
    ):
        rows += [row.sources for row in group]
    return sum(is_published(sources) for sources in rows), len(rows)


def _share_line(weed: Weed, style: Style) -> str:
    published, total = published_share(weed)
    if not total:
        return ""
    percent = round(100 * published / total)
    return style.wrap(f"{published} of {total} facts of this entry ({percent} %) carry a published source.")
