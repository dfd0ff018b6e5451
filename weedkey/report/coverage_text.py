"""Coverage in words: how much is known, how much of it is published, where the gaps are."""

from __future__ import annotations

from collections.abc import Iterable

from weedkey.knowledge.coverage import ENOUGH_LOOKS, Coverage, Share
from weedkey.model.base import Knowledge
from weedkey.report.namer import Namer
from weedkey.report.references import source_line
from weedkey.report.style import Style, bar, join_words, words_of

#: Rows of a list that are printed; the rest is counted. The JSON form holds them all.
SHOWN = 10
_WORDS = {
    "entry": "the entry itself",
    "grows_f": "growth temperature",
    "dormant_below_f": "dormancy temperature",
    "mowing_in": "mowing height",
}


def coverage_text(knowledge: Knowledge, found: Coverage, style: Style) -> str:
    """Six short sections, at most about 120 lines; the same knowledge gives the same text."""
    namer = Namer(knowledge)
    parts = [
        [style.wrap(_summary(found))],
        [style.strong("Facts by kind"), *(_share_row(share) for share in found.by_kind)],
        _section("Entries with the smallest published share", _entries(found, namer), len(found.by_entry), style),
        _section(f"Weeds with fewer than {ENOUGH_LOOKS} looks", _thin(found, namer), len(found.thin), style),
        _section("Weeds that the looks do not tell apart safely", _close(found, namer), len(found.close), style),
        [style.strong("Controls with a label of which nothing is known on a turf (never offered there)")],
        [style.bullet(row) for row in _not_known(found, namer)],
        _section("Oldest sources in use", _oldest(knowledge, found), len(found.oldest), style, shown=None),
    ]
    blocks = [*parts[:5], [*parts[5], *parts[6]], parts[7]]
    return "\n\n".join("\n".join(block) for block in blocks)


def _summary(found: Coverage) -> str:
    counts = join_words([f"{count} {kind}" for kind, count in found.entries.items()])
    return (
        f"{counts}. {found.published} of {found.total} facts ({_percent(found.published, found.total)} %) "
        "carry a published source; the others say from memory, common practice or seen by you."
    )


def _share_row(share: Share) -> str:
    percent = _percent(share.published, share.total)
    what = _WORDS.get(share.what, words_of(share.what))
    return f"  {share.kind + ': ' + what:<34}{share.total:>6}  {bar(percent / 100)} {percent:>3} % published"


def _percent(part: int, whole: int) -> int:
    return round(100 * part / whole) if whole else 0


def _section(title: str, rows: Iterable[str], total: int, style: Style, shown: int | None = SHOWN) -> list[str]:
    """A heading, the first rows, and how many more there are."""
    lines = [style.strong(f"{title}: {total}" if shown else title)]
    listed = list(rows)[:shown]
    lines += [style.bullet(row) for row in listed]
    if total > len(listed):
        lines.append(style.bullet(f"and {total - len(listed)} more (weedkey check --coverage --json lists all)"))
    return lines


def _entries(found: Coverage, namer: Namer) -> list[str]:
    names = {"weeds": namer.weed, "turfs": namer.turf, "controls": namer.control}
    return [
        f"{names[share.kind](share.what)} ({share.kind}): {share.published} of {share.total}"
        for share in found.by_entry[:SHOWN]
    ]


def _thin(found: Coverage, namer: Namer) -> list[str]:
    return [f"{namer.weed(thin.weed)}: {thin.scored} of {thin.applies} that apply" for thin in found.thin]


def _close(found: Coverage, namer: Namer) -> list[str]:
    rows = []
    for pair in found.close[:SHOWN]:
        looks = join_words([words_of(name) for name in pair.traits]) or "no look"
        rows.append(f"{namer.weed(pair.first)} and {namer.weed(pair.second)}: {looks}")
    return rows


def _not_known(found: Coverage, namer: Namer) -> list[str]:
    return [
        f"{namer.turf(row.turf)}: {len(row.controls)} of {found.chemical_controls} not known" for row in found.not_known
    ]


def _oldest(knowledge: Knowledge, found: Coverage) -> list[str]:
    rows = []
    for old in found.oldest:
        plural = "s" if old.facts > 1 else ""
        rows.append(f"{old.year}: {source_line(knowledge, old.source).split(', http')[0]} ({old.facts} fact{plural})")
    return [*rows, f"{found.undated} sources in use print no year"]
