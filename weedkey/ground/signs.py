"""From the weeds of a zone to independent signs for one condition.

weight of a finding = strength x cover factor x belief

strength      from the sources of the weed's entry: every source that states the sign takes away a part of the doubt
              (strong 0.5, moderate 0.35, not stated 0.25, weak 0.1; memory and custom half of it); at most 0.8,
              because lists copy each other; every source that denies it takes away a part of the strength the same way.
cover factor  cover / (cover + a tenth of the cover of the weeds of the zone that say nothing of the condition):
              only the proportion counts, so scaling every cover alike changes nothing.
belief        the names of an unsettled finding exclude each other, so their beliefs times strengths add up.

Plants of one group are one sign: the sedge family, the legumes (one reason: they make their own nitrogen), else the
genus. One finding is one sign, whatever its names. The independent signs are the heaviest set of findings of which
each can stand for a group of its own. More evidence can only enlarge that set or its weights.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import fsum

from weedkey.ground.results import Contradiction, SignReading
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Finding, Zone
from weedkey.model.source import UNPUBLISHED
from weedkey.model.weed import Sign, Weed

#: Part of the doubt that one source takes away, by the strength of its wording.
PER_SOURCE: Mapping[str, float] = {"strong": 0.5, "moderate": 0.35, "not_stated": 0.25, "weak": 0.1}
UNPUBLISHED_SHARE = 0.5
STRONGEST = 0.8
#: A sign has half its weight when it covers this share of what the silent weeds cover.
HALF_COVER = 0.1
#: A lighter finding is shown but is no sign.
LEAST_WEIGHT = 0.1
#: Families whose members say the same thing for the same reason.
ONE_GROUP_FAMILIES = ("Cyperaceae", "Fabaceae")


@dataclass(frozen=True, slots=True)
class _Voice:
    """What one finding says for one condition, before it is compared with the others."""

    finding: Finding
    weeds: tuple[str, ...]
    groups: tuple[str, ...]
    belief: float
    strength: float
    sources: tuple[str, ...]


def group_of(weed: Weed) -> str:
    """Group within which signs count once: a family for sedges and legumes, moss and algae together, else the genus."""
    if weed.group == "moss_or_algae":
        return weed.group
    family = weed.family.strip()
    return family if family in ONE_GROUP_FAMILIES else weed.scientific.split()[0].strip("\u00d7")


def strength_of_sign(weed: Weed, condition: str) -> float:
    """How strongly the sources say that the weed points to the condition, 0 to 0.8, contradictions taken off."""
    rows = [row for row in weed.signs if row.condition == condition]
    said = 1.0 - _doubt_left(row for row in rows if not row.against)
    denied = 1.0 - _doubt_left(row for row in rows if row.against)
    return round(min(STRONGEST, said) * (1.0 - denied), 12)


def sources_of_sign(weed: Weed, condition: str, against: bool = False) -> tuple[str, ...]:
    """The sources that state (or deny) the sign, each once."""
    rows = [row for row in weed.signs if row.condition == condition and row.against == against]
    return tuple(dict.fromkeys(source for row in rows for source in row.sources))


def read_signs(knowledge: Knowledge, zone: Zone, condition: str) -> tuple[SignReading, ...]:
    """Every finding of the zone that points to the condition, heaviest first; ``counts`` marks the independent ones."""
    voices = [voice for finding in zone.findings if (voice := _voice_or_none(knowledge, finding, condition))]
    speaking = {id(voice.finding) for voice in voices}
    silent = fsum(finding.cover_percent for finding in zone.findings if id(finding) not in speaking)
    weighed = sorted(((_weight(voice, silent), voice) for voice in voices), key=_order)
    counted = _independent([voice.groups for _, voice in weighed])
    return tuple(
        SignReading(
            condition=condition,
            weeds=voice.weeds,
            groups=voice.groups,
            cover_percent=voice.finding.cover_percent,
            belief=voice.belief,
            strength=voice.strength,
            cover_factor=_cover_factor(voice.finding.cover_percent, silent),
            weight=weight,
            counts=index in counted and weight >= LEAST_WEIGHT,
            sources=voice.sources,
            note=voice.finding.label,
        )
        for index, (weight, voice) in enumerate(weighed)
    )


def combine_signs(signs: Iterable[SignReading]) -> float:
    """Weight of the independent signs together: 1 - product of (1 - weight)."""
    left = 1.0
    for weight in sorted(sign.weight for sign in signs if sign.counts):
        left *= 1.0 - weight
    return round(1.0 - left, 9)


def read_denials(knowledge: Knowledge, zone: Zone, condition: str) -> tuple[Contradiction, ...]:
    """Sources that deny what a weed of the zone is taken for, one row a weed."""
    weeds = sorted({weed for finding in zone.findings for weed in finding.weeds})
    rows = []
    for weed in weeds:
        entry = knowledge.weeds.get(weed)
        sources = sources_of_sign(entry, condition, against=True) if entry is not None else ()
        if entry is not None and sources:
            notes = [row.note for row in entry.signs if row.condition == condition and row.against and row.note]
            rows.append(Contradiction("source", weed, sources, note="; ".join(notes)))
    return tuple(rows)


def _doubt_left(rows: Iterable[Sign]) -> float:
    """What doubt remains after every source has spoken; each source counts once, with its strongest wording."""
    parts: dict[str, float] = {}
    for row in rows:
        for source in row.sources:
            part = PER_SOURCE[row.strength] * (UNPUBLISHED_SHARE if source in UNPUBLISHED else 1.0)
            parts[source] = max(part, parts.get(source, 0.0))
    left = 1.0
    for part in sorted(parts.values()):
        left *= 1.0 - part
    return left


def _voice_or_none(knowledge: Knowledge, finding: Finding, condition: str) -> _Voice | None:
    parts: list[tuple[str, Weed, float, float]] = []
    for weed, belief in sorted(finding.weeds.items()):
        entry = knowledge.weeds.get(weed)
        strength = strength_of_sign(entry, condition) if entry is not None else 0.0
        if entry is not None and strength > 0.0 and belief > 0.0:
            parts.append((weed, entry, belief, strength))
    if not parts:
        return None
    belief = fsum(part[2] for part in parts)
    return _Voice(
        finding=finding,
        weeds=tuple(part[0] for part in parts),
        groups=tuple(sorted({group_of(part[1]) for part in parts})),
        belief=belief,
        strength=fsum(part[2] * part[3] for part in parts) / belief,
        sources=tuple(dict.fromkeys(source for part in parts for source in sources_of_sign(part[1], condition))),
    )


def _weight(voice: _Voice, silent: float) -> float:
    return round(voice.strength * voice.belief * _cover_factor(voice.finding.cover_percent, silent), 9)


def _cover_factor(cover: float, silent: float) -> float:
    return cover / (cover + HALF_COVER * silent) if cover > 0.0 else 0.0


def _order(item: tuple[float, _Voice]) -> tuple[float, tuple[str, ...], float, float]:
    weight, voice = item
    return -weight, voice.weeds, -voice.finding.cover_percent, -voice.belief


def _independent(groups: list[tuple[str, ...]]) -> set[int]:
    """Indexes of the findings, taken heaviest first, that can each stand for a group of its own (augmenting paths)."""
    owner: dict[str, int] = {}
    chosen: set[int] = set()

    def place(finding: int, tried: set[str]) -> bool:
        for group in groups[finding]:
            if group in tried:
                continue
            tried.add(group)
            if group not in owner or place(owner[group], tried):
                owner[group] = finding
                return True
        return False

    for finding in range(len(groups)):
        if place(finding, set()):
            chosen.add(finding)
    return chosen
