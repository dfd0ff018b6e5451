"""Draw ten published facts of each weed for a second reader: ``python docs/draw_facts.py FILE.tsv WEED…``.

Four sources of an entry are drawn at random (seeded by its id), two of them behind its responses; then ten facts that
rest on them, one kind after the other, so that a rare kind is read as well. Columns: weed, kind, fact, sources,
verdict, done; the last two are empty.
"""

from __future__ import annotations

import csv
import random
import sys
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from pathlib import Path
from typing import Any

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent))

from weedkey.knowledge.loading import read_folder  # noqa: E402
from weedkey.model.source import UNPUBLISHED  # noqa: E402
from weedkey.model.weed import Weed  # noqa: E402

SOURCES, FACTS = 4, 10
#: The turns in which kinds are drawn: what decides a treatment or a name first.
TURNS = ("responses", "looks", "life_cycles", "look_alikes", "calendar", "looks", "responses", "only_non_selective")
COLUMNS = ("weed", "kind", "fact", "sources", "verdict", "done")


def words(value: Any) -> str:
    """A value in one line, empty fields left out."""
    if is_dataclass(value) and hasattr(value, "start_month"):
        return f"{value.start_month:02d}-{value.start_day:02d} to {value.end_month:02d}-{value.end_day:02d}"
    if is_dataclass(value):
        pairs = [(item.name, getattr(value, item.name)) for item in fields(value) if item.name != "sources"]
        return "; ".join(f"{name} {words(item)}" for name, item in pairs if item not in (None, "", (), [], False))
    if isinstance(value, (tuple, list, frozenset)):
        return ", ".join(words(item) for item in value)
    return " ".join(str(value).split())


def facts_of(weed: Weed) -> Iterator[tuple[str, str, tuple[str, ...]]]:
    """(kind, fact in one line, published sources) of every row of an entry that has a publication behind it."""
    for item in fields(weed):
        value = getattr(weed, item.name)
        if item.name == "looks":
            rows = [(trait, row) for trait, seen in value.items() for row in seen]
        else:
            rows = [("", row) for row in (value if isinstance(value, tuple) else (value,))]
        for label, row in rows:
            published = tuple(name for name in getattr(row, "sources", ()) if name not in UNPUBLISHED)
            if published:
                yield item.name, f"{label} {words(row)}".strip(), published


def draw(weed: Weed) -> list[tuple[str, str, tuple[str, ...]]]:
    """Ten facts on four sources; all that there are if there are fewer."""
    pick = random.Random(f"second reading {weed.id}")  # noqa: S311 - a sample, no secret
    facts = list(facts_of(weed))
    names = sorted({name for *_, sources in facts for name in sources})
    behind = sorted({name for kind, _, sources in facts if kind == "responses" for name in sources})
    drawn = set(pick.sample(behind, min(SOURCES // 2, len(behind))))
    others = [name for name in names if name not in drawn]
    drawn.update(pick.sample(others, min(SOURCES - len(drawn), len(others))))
    near = [fact for fact in facts if drawn.intersection(fact[2])]
    rest = [fact for fact in facts if fact not in near]
    pick.shuffle(near)
    pick.shuffle(rest)
    by_kind: dict[str, list[tuple[str, str, tuple[str, ...]]]] = {}
    for fact in near:
        by_kind.setdefault(fact[0], []).append(fact)
    chosen: list[tuple[str, str, tuple[str, ...]]] = []
    while len(chosen) < FACTS and any(by_kind.values()):
        for kind in (*TURNS, *sorted(set(by_kind) - set(TURNS))):
            if by_kind.get(kind) and len(chosen) < FACTS:
                chosen.append(by_kind[kind].pop())
    return [*chosen, *rest[: FACTS - len(chosen)]]


def main() -> int:
    """Write the sheet of the weeds that are named; of all weeds if none is."""
    target, *names = sys.argv[1:]
    knowledge = read_folder(HERE.parent / "knowledge")
    with Path(target).open("w", encoding="utf-8", newline="") as file:
        sheet = csv.writer(file, delimiter="\t", lineterminator="\n")
        sheet.writerow(COLUMNS)
        for name in names or sorted(knowledge.weeds):
            for kind, fact, sources in draw(knowledge.weeds[name]):
                sheet.writerow((name, kind, fact, " ".join(sources), "", ""))
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
