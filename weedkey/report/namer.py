"""Turns ids into the names that people use."""

from __future__ import annotations

from collections.abc import Iterable

from weedkey.model.base import Knowledge
from weedkey.model.source import UNPUBLISHED
from weedkey.report.style import join_words, words_of


class Namer:
    """Names of weeds, turfs, controls, conditions, traits, states and places; the id as words where none is
    known.
    """

    def __init__(self, knowledge: Knowledge) -> None:
        self.knowledge = knowledge

    def weed(self, weed_id: str) -> str:
        """A weed's common name."""
        entry = self.knowledge.weeds.get(weed_id)
        return entry.name if entry else words_of(weed_id)

    def marked_weed(self, weed_id: str) -> str:
        """A weed's common name; "(yours)" after it if an entry of the user's own stands behind it."""
        entry = self.knowledge.weeds.get(weed_id)
        return f"{self.weed(weed_id)} (yours)" if entry is not None and entry.local else self.weed(weed_id)

    def turf(self, turf_id: str) -> str:
        """A turf's common name; any_warm_season reads "any warm-season turf"."""
        entry = self.knowledge.turfs.get(turf_id)
        if entry:
            return entry.name
        return {
            "any": "any turf",
            "any_warm_season": "any warm-season turf",
            "any_cool_season": "any cool-season turf",
        }.get(turf_id, words_of(turf_id))

    def control(self, control_id: str) -> str:
        """A control's name: the ISO common name for an ingredient."""
        entry = self.knowledge.controls.get(control_id)
        return entry.name if entry else words_of(control_id)

    def condition(self, condition_id: str) -> str:
        """A condition of the ground."""
        entry = self.knowledge.conditions.get(condition_id)
        return entry.name if entry else words_of(condition_id)

    def question(self, trait_id: str) -> str:
        """The question of a look."""
        entry = self.knowledge.traits.get(trait_id)
        return entry.question if entry else words_of(trait_id)

    def state(self, trait_id: str, state_id: str) -> str:
        """The words of one state of a look."""
        trait = self.knowledge.traits.get(trait_id)
        if trait:
            for state in trait.states:
                if state.id == state_id:
                    return state.words
        return words_of(state_id)

    def place(self, place_id: str) -> str:
        """A place."""
        entry = self.knowledge.places.get(place_id)
        return entry.name if entry else words_of(place_id)

    def any(self, some_id: object) -> str:
        """Any id or value: the name of whatever entry has it, numbers without needless zeros, else its
        words.
        """
        if isinstance(some_id, bool) or some_id is None:
            return {True: "yes", False: "no", None: "not known"}[some_id]
        if isinstance(some_id, float):
            return f"{round(some_id, 2 if abs(some_id) < 10 else 0):g}"
        if not isinstance(some_id, str):
            return str(some_id)
        for entries in (
            self.knowledge.weeds,
            self.knowledge.turfs,
            self.knowledge.controls,
            self.knowledge.conditions,
            self.knowledge.places,
        ):
            if some_id in entries:
                return str(entries[some_id].name)
        return words_of(some_id)

    def many(self, ids: object, last: str = "and") -> str:
        """A list of ids as names in one phrase."""
        if isinstance(ids, str) or not isinstance(ids, Iterable):
            return self.any(ids)
        return join_words([self.any(item) for item in ids], last)

    def who(self, sources: Iterable[str]) -> str:
        """Who says so, short: institutions (with year), or from memory, or common practice."""
        names: list[str] = []
        for source_id in sources:
            source = self.knowledge.sources.get(source_id)
            if source_id in UNPUBLISHED:
                name = words_of(source_id)
            elif source:
                name = f"{source.institution} {source.year}".strip()
            else:
                name = source_id
            if name not in names:
                names.append(name)
        return "; ".join(names)
