"""Two or three weeds side by side, in words: only what tells them apart, cheapest first."""

from __future__ import annotations

from weedkey.key.side_by_side import Comparison
from weedkey.model.base import Knowledge
from weedkey.model.weed import Seen
from weedkey.report.namer import Namer
from weedkey.report.references import References
from weedkey.report.style import Style, join_words
from weedkey.report.traits_text import NEEDS_WORDS


def compare_text(knowledge: Knowledge, found: Comparison, style: Style) -> str:
    """One block a look: the question, then each weed's states; at the end what the entries say of each other."""
    namer, refs = Namer(knowledge), References(knowledge)
    lines = [style.strong(join_words([namer.weed(weed) for weed in found.weeds]))]
    for row in found.rows:
        trait = knowledge.traits[row.trait]
        lines.append("")
        lines.append(style.wrap(f"{trait.question} ({NEEDS_WORDS[trait.needs]}, {trait.cost_seconds:g} s)"))
        for weed, seen in zip(found.weeds, row.seen, strict=True):
            marks = refs.mark(dict.fromkeys(source for state in seen for source in state.sources))
            lines.append(style.bullet(f"{namer.weed(weed)}: {_states(row.trait, seen, namer)} {marks}"))
    for first, second in found.unseparated:
        text = f"No stated look tells {namer.weed(first)} from {namer.weed(second)}."
        lines += ["", style.wrap(text)]
    if found.tells:
        lines += ["", style.strong("In a sentence")]
        lines += [style.bullet(f"{tell} {refs.mark(sources)}") for _, _, tell, sources in found.tells]
    lines += ["", style.strong("Sources"), *(style.wrap(line, "  ", "      ") for line in refs.lines())]
    return "\n".join(lines)


def _states(trait: str, seen: tuple[Seen, ...], namer: Namer) -> str:
    if not seen:
        return "not known, or does not apply"
    parts = []
    for state in seen:
        share = f" ({round(state.share * 100)} in 100)" if state.share is not None and state.share < 1 else ""
        parts.append(namer.state(trait, state.state) + share)
    return "; or ".join(parts)
