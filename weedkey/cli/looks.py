"""Looks as they are typed: ``ligule=membrane,hairs`` (one of these), ``--both``, ``--unsure``, ``TRAIT=?``."""

from __future__ import annotations

from collections.abc import Iterable

from weedkey.errors import UsageError
from weedkey.knowledge.names import find_entry
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Look
from weedkey.model.trait import Trait

CANNOT_TELL = ("?", "cant_tell", "can't tell", "unknown")


def read_looks(
    knowledge: Knowledge, one_of: Iterable[str], both: Iterable[str], unsure: Iterable[str]
) -> tuple[Look, ...]:
    """All looks typed. Raises UsageError for a text that is not TRAIT=STATE, UnknownName for an unknown
    word.
    """
    looks = [read_look(knowledge, text) for text in one_of]
    looks += [read_look(knowledge, text, both=True) for text in both]
    looks += [read_look(knowledge, text, unsure=True) for text in unsure]
    return tuple(looks)


def read_look(knowledge: Knowledge, text: str, *, both: bool = False, unsure: bool = False) -> Look:
    """One look from TRAIT=STATE[,STATE]. Raises UsageError, UnknownName."""
    name, equals, value = text.partition("=")
    if not equals or not value.strip():
        raise UsageError(f"{text!r} is not a look", "TRAIT=STATE", "ligule=membrane, or ligule=? for can't tell")
    trait = _find_trait(knowledge, name.strip())
    if value.strip().lower() in CANNOT_TELL:
        return Look(trait.id, ())
    states = tuple(_find_state(trait, word.strip()) for word in value.split(","))
    return Look(trait.id, states, both=both, unsure=unsure)


def _find_trait(knowledge: Knowledge, name: str) -> Trait:
    key = name.lower().replace("-", "_").replace(" ", "_")
    trait = knowledge.traits.get(key)
    return trait or find_entry(knowledge.traits, "look", name)


def _find_state(trait: Trait, word: str) -> str:
    key = word.lower().replace("-", "_").replace(" ", "_")
    for state in trait.states:
        if key == state.id or word.lower() in (state.words.lower(), *(also.lower() for also in state.also)):
            return state.id
    raise UsageError(
        f"{trait.id} has no state {word!r}",
        "one of " + ", ".join(trait.state_ids),
        f"{trait.id}={trait.state_ids[0]}",
    )
