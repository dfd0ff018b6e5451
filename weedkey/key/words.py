"""Plain words to looks: "three sided stem, shiny yellow green, wet corner" -> proposed looks, each with its phrase.

Nothing is applied here: a proposal is confirmed or dropped by the user. "no auricles", "without hairs" turn a phrase
round. Close spellings are found with rapidfuzz; a phrase that matches nothing is listed, not dropped.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from weedkey.key.answers import ABSENT_WORDS
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Look
from weedkey.model.trait import Trait

#: Likeness (0 to 100) from which a phrase is proposed.
CLOSE = 86.0
#: Longest phrase, in words, that is compared.
LONGEST = 6
#: A phrase shorter than this must match letter by letter ("red" is not "reed").
EXACT_BELOW = 5
NEGATIONS = frozenset({"no", "not", "without", "lacks", "lacking", "never", "none"})
#: Words that carry nothing by themselves.
FILLERS = frozenset(
    "a an the is are it its has have with and or of in on at to i see looks like very quite some this that there "  # noqa: SIM905
    "plant weed thing kind but from by as".split()
)
_SPELLINGS = {"colour": "color", "coloured": "colored", "grey": "gray", "leaves": "leaf", "center": "centre"}
_BREAK = re.compile(r"[,;.:!?()\n]|\bbut\b|\band\b|\bwith\b|\bplus\b")
_HAIRLESS = re.compile(r"\bhairless\b", re.IGNORECASE)
#: Words up to this length keep their s ("gas", "bus").
_SHORT_WORD = 4


@dataclass(frozen=True, slots=True)
class Proposal:
    """A look that the words may mean. ``matched``: the part of the text; ``phrase``: the words of the knowledge that it
    matched; ``score``: likeness 0 to 100; ``negated``: the text says that it is not there.
    """

    trait: str
    states: tuple[str, ...]
    matched: str
    phrase: str
    score: float
    negated: bool = False

    @property
    def look(self) -> Look:
        """The proposal as a look, to be applied only after the user agrees."""
        return Look(self.trait, self.states)


@dataclass(frozen=True, slots=True)
class Reading:
    """What was made of a text: proposals in the order of the text, and the words that matched nothing."""

    proposals: tuple[Proposal, ...]
    unmatched: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Phrase:
    """A normalised phrase and what it stands for; ``state`` is empty for a name of the trait itself."""

    words: tuple[str, ...]
    text: str
    trait: str
    state: str
    rank: int


@dataclass(frozen=True, slots=True)
class _Hit:
    start: int
    end: int
    phrase: _Phrase
    score: float


def propose_looks(knowledge: Knowledge, text: str) -> list[Proposal]:
    """Proposed looks for a text, in its order; empty if no word of it is known. Nothing is applied."""
    return list(read_words(knowledge, text).proposals)


def read_words(knowledge: Knowledge, text: str) -> Reading:
    """Proposals and unmatched words of a text."""
    phrases = _list_phrases(knowledge)
    proposals: list[Proposal] = []
    unmatched: list[str] = []
    for clause in _BREAK.split(_HAIRLESS.sub("no hairs", text)):
        words = _split_words(clause)
        if words:
            found, left = _read_clause(knowledge, phrases, words)
            proposals.extend(found)
            unmatched.extend(left)
    return Reading(tuple(_drop_repeats(proposals)), tuple(unmatched))


def _drop_repeats(proposals: Iterable[Proposal]) -> list[Proposal]:
    """One proposal for one trait and state set; the best score stays, the order is that of the text."""
    best: dict[tuple[str, tuple[str, ...]], Proposal] = {}
    for proposal in proposals:
        key = (proposal.trait, proposal.states)
        if key not in best or proposal.score > best[key].score:
            best[key] = proposal
    return list(best.values())


def _split_words(text: str) -> list[str]:
    """Lower-case words in one spelling; hyphens part words ("yellow-green" is two)."""
    return [_SPELLINGS.get(word, word) for word in re.findall(r"[a-z0-9]+", text.lower().replace("'", ""))]


@lru_cache(maxsize=8192)
def _stem(word: str) -> str:
    """A plural as its singular, roughly; both sides of a comparison go through it."""
    if len(word) > _SHORT_WORD and word.endswith("s") and not word.endswith("ss"):
        return word[:-1]
    return word


def _list_phrases(knowledge: Knowledge) -> dict[str, list[_Phrase]]:
    """All phrases of all states and traits by their first stems; a shorter list of words and a state come first."""
    index: dict[str, list[_Phrase]] = {}
    for trait in knowledge.traits.values():
        texts = [(trait.id.replace("_", " "), "", 3), *((text, "", 3) for text in trait.also)]
        for state in trait.states:
            texts.extend((text, state.id, 0) for text in state.also)
            texts.append((state.words, state.id, 1))
            texts.append((state.id.replace("_", " "), state.id, 2))
        for text, state_id, rank in texts:
            words = tuple(_stem(word) for word in _split_words(text))
            if words and len(words) <= LONGEST and not (state_id in ABSENT_WORDS and len(words) == 1):
                index.setdefault(" ".join(words), []).append(_Phrase(words, text, trait.id, state_id, rank))
    return index


def _read_clause(
    knowledge: Knowledge, phrases: dict[str, list[_Phrase]], words: Sequence[str]
) -> tuple[list[Proposal], list[str]]:
    """Proposals of one clause: longest and closest phrases first, no word used twice for the same trait."""
    stems = [_stem(word) for word in words]
    hits = _prefer_named_parts(knowledge, _find_hits(phrases, stems), stems)
    used: list[bool] = [False] * len(words)
    proposals: list[tuple[int, Proposal]] = []
    taken: list[_Hit] = []
    for hit in hits:
        inside = range(hit.start, hit.end)
        if any(used[place] for place in inside) and not _shares_span(hit, taken):
            continue
        proposal = _make_proposal(knowledge, hit, words)
        if proposal is not None:
            proposals.append((hit.start, proposal))
            taken.append(hit)
            for place in inside:
                used[place] = True
            _mark_negation(words, hit.start, used)
    proposals.sort(key=lambda pair: pair[0])
    stated = {hit.phrase.trait for hit in taken if hit.phrase.state}
    named = {hit.phrase.trait for hit in taken if not hit.phrase.state}
    kept = [
        proposal for _, proposal in proposals if not (proposal.trait in named & stated and len(proposal.states) > 1)
    ]
    about = frozenset().union(*(_list_part_words(knowledge.traits[proposal.trait]) for proposal in kept))
    left = [
        word
        for word, stem, done in zip(words, stems, used, strict=True)
        if not done and word not in FILLERS and stem not in about
    ]
    return kept, left


@lru_cache(maxsize=512)
def _list_part_words(trait: Trait) -> frozenset[str]:
    """Words that name what the look is about: from its id, its question and its other names."""
    texts = (trait.id.replace("_", " "), trait.question, *trait.also)
    return frozenset(_stem(word) for text in texts for word in _split_words(text)) - FILLERS


def _prefer_named_parts(knowledge: Knowledge, hits: list[_Hit], stems: Sequence[str]) -> list[_Hit]:
    """Where one phrase belongs to several looks ("toothed": leaf or ligule), keep those whose part the clause names."""
    best: dict[tuple[int, int], int] = {}
    shared: list[int] = []
    for hit in hits:
        outside = [*stems[: hit.start], *stems[hit.end :]]
        ids = {_stem(word) for word in _split_words(hit.phrase.trait.replace("_", " "))}
        about = _list_part_words(knowledge.traits[hit.phrase.trait])
        count = sum(2 if word in ids else 1 if word in about else 0 for word in outside)
        shared.append(count)
        best[hit.start, hit.end] = max(best.get((hit.start, hit.end), 0), count)
    return [hit for hit, count in zip(hits, shared, strict=True) if count == best[hit.start, hit.end]]


def _shares_span(hit: _Hit, taken: Sequence[_Hit]) -> bool:
    """True if the same words were already read, equally well, as a look of another trait: both are proposed."""
    same = [other for other in taken if (other.start, other.end) == (hit.start, hit.end)]
    return bool(same) and all(other.phrase.trait != hit.phrase.trait and hit.score >= other.score for other in same)


def _mark_negation(words: Sequence[str], start: int, used: list[bool]) -> None:
    if start > 0 and words[start - 1] in NEGATIONS:
        used[start - 1] = True


def _find_hits(phrases: dict[str, list[_Phrase]], stems: Sequence[str]) -> list[_Hit]:
    """Every span of the clause that is close to a phrase, best first: more words, then closer, then the better kind."""
    hits: list[_Hit] = []
    for start in range(len(stems)):
        for end in range(start + 1, min(start + LONGEST, len(stems)) + 1):
            span = " ".join(stems[start:end])
            if all(word in FILLERS for word in stems[start:end]):
                continue
            for text, score in _find_close(phrases, span, end - start):
                hits.extend(_Hit(start, end, phrase, score) for phrase in phrases[text])
    hits.sort(
        key=lambda hit: (
            hit.start - hit.end,
            -hit.score,
            hit.phrase.rank,
            hit.start,
            hit.phrase.trait,
            hit.phrase.state,
        )
    )
    return hits


def _find_close(phrases: dict[str, list[_Phrase]], span: str, count: int) -> list[tuple[str, float]]:
    """Phrases equal to the span, else those spelled nearly so (with the same number of words)."""
    if span in phrases:
        return [(span, 100.0)]
    if len(span) < EXACT_BELOW:
        return []
    from rapidfuzz import fuzz, process

    same_size = [text for text in phrases if text.count(" ") + 1 == count]
    close = process.extract(span, same_size, scorer=fuzz.ratio, score_cutoff=CLOSE, limit=3)
    joined = span.replace(" ", "")
    glued = [text for text in phrases if text.replace(" ", "") == joined]
    return [(text, 99.0) for text in glued] or [(text, float(score)) for text, score, _ in close]


def _make_proposal(knowledge: Knowledge, hit: _Hit, words: Sequence[str]) -> Proposal | None:
    """The look for a hit. A negated state becomes "absent" if the trait has it, else all other states."""
    trait = knowledge.traits[hit.phrase.trait]
    negated = hit.start > 0 and words[hit.start - 1] in NEGATIONS
    matched = " ".join(words[hit.start - 1 if negated else hit.start : hit.end])
    absent = tuple(state for state in trait.state_ids if state in ABSENT_WORDS)
    if not hit.phrase.state:
        if not absent:
            return None
        states = absent if negated else tuple(state for state in trait.state_ids if state not in absent)
        return Proposal(trait.id, states, matched, hit.phrase.text, hit.score, negated=negated)
    states = (hit.phrase.state,)
    if negated and hit.phrase.state not in ABSENT_WORDS:
        states = _turn_round(trait, hit.phrase.state, absent)
    return Proposal(trait.id, states, matched, hit.phrase.text, hit.score, negated=negated)


def _turn_round(trait: Trait, state: str, absent: tuple[str, ...]) -> tuple[str, ...]:
    """What "not this" leaves: absent for a part that is simply there or not, else every other state."""
    others = tuple(other for other in trait.state_ids if other != state)
    return absent if absent and len(trait.states) <= len(absent) + 1 else others
