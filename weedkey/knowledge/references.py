"""Ids that an entry names must exist: looks and their states, controls, turfs, weeds, conditions, cultivars.

Shared by the checks and by the loading of local entries, where an id that leads nowhere would surface much later.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Any

from weedkey.knowledge.build import Problem, nearest_or_none
from weedkey.knowledge.strict_yaml import KeyPath
from weedkey.knowledge.words import ANY_TURF
from weedkey.model.base import Knowledge
from weedkey.model.condition import Condition
from weedkey.model.control import Control
from weedkey.model.trait import Trait
from weedkey.model.turf import Turf
from weedkey.model.weed import Weed

CHECK_ID = "reference"


def find_reference_issues(entry: Any, knowledge: Knowledge) -> list[Problem]:
    """Every id in the entry that names nothing."""
    finder = _FINDERS.get(type(entry))
    return list(finder(entry, knowledge)) if finder else []


def _unknown(what: str, name: str, known: Iterable[str], path: KeyPath) -> Problem:
    write = nearest_or_none(name, list(known), cutoff=0.8) or ""
    return Problem(path, CHECK_ID, f"there is no {what} {name!r}", f"the id of a {what}", write)


def _in(what: str, name: str, known: Any, path: KeyPath) -> Iterator[Problem]:
    """A problem unless the id is known; a kind of which there are no entries at all is not there to be asked."""
    if name not in known and any(word not in ANY_TURF for word in known):
        yield _unknown(what, name, known, path)


def _weed(weed: Weed, knowledge: Knowledge) -> Iterator[Problem]:
    turfs = (*knowledge.turfs, *ANY_TURF)
    yield from _looks(weed, knowledge)
    for row, response in enumerate(weed.responses):
        yield from _in("control", response.control, knowledge.controls, ("responses", row, "control"))
        for place, name in enumerate(response.in_turf):
            yield from _in("turf", name, turfs, ("responses", row, "in_turf", place))
        for place, name in enumerate(response.sequence.order if response.sequence else ()):
            yield from _in("control", name, knowledge.controls, ("responses", row, "sequence", "order", place))
    for row, only in enumerate(weed.only_non_selective):
        yield from _in("turf", only.turf, turfs, ("only_non_selective", row, "turf"))
    for row, alike in enumerate(weed.look_alikes):
        yield from _in("weed or turf", alike.weed, (*knowledge.weeds, *knowledge.turfs), ("look_alikes", row, "weed"))
        for place, name in enumerate(alike.traits):
            yield from _in("look", name, knowledge.traits, ("look_alikes", row, "traits", place))
    if weed.turf is not None:
        yield from _in("turf", weed.turf, knowledge.turfs, ("turf",))
    for row, sign in enumerate(weed.signs):
        yield from _in("condition", sign.condition, knowledge.conditions, ("signs", row, "condition"))


def _looks(weed: Weed, knowledge: Knowledge) -> Iterator[Problem]:
    for name, seen in weed.looks.items():
        trait = knowledge.traits.get(name)
        if trait is None:
            yield _unknown("look", name, knowledge.traits, ("looks", name))
            continue
        for row, state in enumerate(seen):
            if state.state not in trait.state_ids:
                write = nearest_or_none(state.state, trait.state_ids) or ""
                expected = "" if write else "one of " + ", ".join(trait.state_ids)
                yield Problem(
                    ("looks", name, row, "state"),
                    CHECK_ID,
                    f"the look {name} has no state {state.state!r}",
                    expected,
                    write,
                )


def _control(control: Control, knowledge: Knowledge) -> Iterator[Problem]:
    turfs = (*knowledge.turfs, *ANY_TURF)
    for row, part in enumerate(control.parts):
        yield from _in("control", part, knowledge.controls, ("parts", row))
    for row, tolerance in enumerate(control.tolerance):
        path: KeyPath = ("tolerance", row)
        yield from _in("turf", tolerance.turf, turfs, (*path, "turf"))
        yield from _cultivars(tolerance.turf, tolerance.when.cultivars, knowledge, (*path, "when", "cultivars"))
        yield from _cultivars(tolerance.turf, tolerance.when.not_cultivars, knowledge, (*path, "when", "not_cultivars"))
    for row, name in enumerate(control.not_known):
        yield from _in("turf", name, turfs, ("not_known", row))
    for field in ("limits", "yearly", "interactions", "gates"):
        for row, item in enumerate(getattr(control, field)):
            for place, name in enumerate(item.turfs):
                yield from _in("turf", name, turfs, (field, row, "turfs", place))
    for row, reseeding in enumerate(control.reseeding):
        yield from _in("turf", reseeding.turf, turfs, ("reseeding", row, "turf"))
    for row, resistance in enumerate(control.resistance):
        yield from _in("weed", resistance.weed, knowledge.weeds, ("resistance", row, "weed"))
    for row, name in enumerate(control.remedies):
        yield from _in("condition", name, knowledge.conditions, ("remedies", row))


def _cultivars(turf: str, names: Iterable[str], knowledge: Knowledge, path: KeyPath) -> Iterator[Problem]:
    """A cultivar that a row names must be listed in its turf (or in any turf, for a row about any)."""
    turfs = [knowledge.turfs[turf]] if turf in knowledge.turfs else list(knowledge.turfs.values())
    known = [cultivar.id for item in turfs for cultivar in item.cultivars]
    for place, name in enumerate(names):
        yield from _in("cultivar", name, known, (*path, place))


def _turf(turf: Turf, knowledge: Knowledge) -> Iterator[Problem]:  # noqa: ARG001 - one shape for all finders
    known = [cultivar.id for cultivar in turf.cultivars]
    for row, rate in enumerate(turf.spread_rates):
        if rate.cultivar is not None:
            yield from _in("cultivar", rate.cultivar, known, ("spread_rates", row, "cultivar"))


def _trait(trait: Trait, knowledge: Knowledge) -> Iterator[Problem]:
    if trait.asked_if is None:
        return
    first, states = trait.asked_if
    other = knowledge.traits.get(first)
    if other is None:
        yield _unknown("look", first, knowledge.traits, ("asked_if", "trait"))
        return
    for row, state in enumerate(states):
        yield from _in(f"state of {first}", state, other.state_ids, ("asked_if", "states", row))


def _condition(condition: Condition, knowledge: Knowledge) -> Iterator[Problem]:
    if condition.opposite is not None:
        yield from _in("condition", condition.opposite, knowledge.conditions, ("opposite",))
    for row, remedy in enumerate(condition.remedies):
        yield from _in("control", remedy.control, knowledge.controls, ("remedies", row, "control"))


_FINDERS: dict[type[Any], Callable[[Any, Knowledge], Iterator[Problem]]] = {
    Weed: _weed,
    Control: _control,
    Turf: _turf,
    Trait: _trait,
    Condition: _condition,
}
