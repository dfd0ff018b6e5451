"""Every control on one turf in words."""

from __future__ import annotations

from collections.abc import Sequence

from weedkey.control import Setting, TurfControl
from weedkey.model.base import Knowledge
from weedkey.model.vocabulary import TOLERANCES
from weedkey.report.dates import day_words
from weedkey.report.namer import Namer
from weedkey.report.references import References
from weedkey.report.style import TOLERANCE_WORDS, Style, join_words, words_of
from weedkey.report.wording import sentence


def turf_text(knowledge: Knowledge, setting: Setting, rows: Sequence[TurfControl], style: Style) -> str:
    """Controls by tolerance, each with what the answer rests on; those of which nothing is known in one
    line.
    """
    namer = Namer(knowledge)
    refs = References(knowledge)
    growth = words_of(setting.growth) if setting.growth else "growth not known"
    site = words_of(setting.site) if setting.site else "site not known"
    blocks = [style.strong(f"{namer.turf(setting.turf)}, {growth}, {day_words(setting.on)}, {site}")]
    for tolerance in TOLERANCES:
        members = [row for row in rows if row.tolerance == tolerance]
        if not members:
            continue
        title = style.strong(TOLERANCE_WORDS[tolerance])
        if tolerance == "not_known":
            names = join_words([row.name for row in members])
            blocks.append(title + "\n" + style.wrap(f"{names}. Nothing was found: never offered.", "  "))
            continue
        lines = [title]
        for row in members:
            text = f"{row.name}: {sentence(row.step, namer)} {refs.mark(row.sources)}"
            lines.append(style.bullet(text))
        blocks.append("\n".join(lines))
    sources = refs.lines()
    if sources:
        blocks.append("\n".join([style.strong("Sources"), *(style.wrap(s, "  ", "      ") for s in sources)]))
    return "\n\n".join(blocks)
