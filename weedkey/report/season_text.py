"""The year of a place, and the closing of a spot, in words."""

from __future__ import annotations

from weedkey.model.base import Knowledge
from weedkey.model.place import Place
from weedkey.model.turf import Turf
from weedkey.model.weed import Weed
from weedkey.report.dates import MONTH_NAMES, day_words
from weedkey.report.namer import Namer
from weedkey.report.references import References
from weedkey.report.season_json import season_json
from weedkey.report.style import Style, bar, words_of
from weedkey.report.wording import sentence
from weedkey.season.recovery import Repair, SpotClosure


def season_text(  # noqa: PLR0917 - place, grass and weed of one year
    knowledge: Knowledge, place: Place, turf: Turf | None, weed: Weed | None, year: int, style: Style
) -> str:
    """A line a month, then frost, then the windows of a weed."""
    refs = References(knowledge)
    data = season_json(knowledge, place, turf, weed, year)
    lines = [style.strong(f"{place.name}, {year}") + " " + refs.mark(place.sources)]
    head = "month       low  high  soil °F at 4 in" + ("   growth" if turf else "")
    lines.append(head)
    for number, row in enumerate(data["months"]):
        text = f"{MONTH_NAMES[number]:<10} {row['low_f']:>5.0f} {row['high_f']:>5.0f} {row['soil_4_in_f']:>5.0f}"
        if turf:
            text += f"          {bar(row['growth_potential'])} {words_of(row['growth'])}"
        lines.append(text)
    for frost in data["frost"]:
        guess = " (estimated from the means)" if frost["estimated"] else ""
        lines.append(f"{words_of(frost['event'])} frost: {frost['on']}{guess} {refs.mark(frost['sources'])}")
    if weed:
        lines += ["", style.strong(f"{weed.name}")]
        lines += [
            f"  comes up {row['from']} to {row['to']}, by {row['basis']} {refs.mark(row['sources'])}"
            for row in data["germination"]
        ]
        lines += [style.bullet(row["why"]) for row in data["pre_emergence"]]
        if not data["germination"]:
            lines.append("  when it comes up here is not known")
    lines += ["", style.strong("Sources"), *(style.wrap(s, "  ", "      ") for s in refs.lines())]
    return "\n".join(lines)


def closure_text(knowledge: Knowledge, closure: SpotClosure, repair: Repair, style: Style) -> str:
    """Whether it closes, until when, and the other ways."""
    namer, refs = Namer(knowledge), References(knowledge)
    text = sentence(closure.step, namer)
    lines = [style.wrap(f"{text[0].upper()}{text[1:]} {refs.mark(closure.step.sources)}")]
    if closure.last_date:
        lines.append(style.wrap(f"Last day on which such a spot still closes: {day_words(closure.last_date)}."))
    if repair.kind != "let_it_close":
        lines.append(style.wrap(f"What to do: {sentence(repair.step, namer)}."))
        for row, first, last in repair.methods:
            span = f"{day_words(first)} to {day_words(last)}"
            lines.append(style.bullet(f"{row.method}: {span} {refs.mark(row.sources)}"))
    lines += ["", style.strong("Sources"), *(style.wrap(s, "  ", "      ") for s in refs.lines())]
    return "\n".join(lines)
