"""Names in a lawn file -> ids, before the lawn is built; each unknown name with the nearest ones.

Works on plain values and leaves anything of a wrong shape alone: that is reported when the lawn is built.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from typing import Any

from weedkey.errors import UnknownName
from weedkey.knowledge.build import Report, nearest_or_none
from weedkey.knowledge.forms import SQFT_M2
from weedkey.knowledge.names import find_entry, normalise, search
from weedkey.knowledge.strict_yaml import KeyPath
from weedkey.model.base import Knowledge
from weedkey.model.trait import Trait

_UNSETTLED = re.compile(
    r"\b(?:unknown|unidentified|unsure|not sure|some|sort of|kind of|maybe|mystery|which)\b|\?", re.IGNORECASE
)
_GROUP_WORDS = {
    "grass": "grassy",
    "grassy": "grassy",
    "sedge": "sedge",
    "rush": "rush",
    "broadleaf": "broadleaf",
    "moss": "moss_or_algae",
    "algae": "moss_or_algae",
}
#: Keys whose words may be typed with spaces, hyphens or capitals.
_WORD_KEYS = ("site", "stand", "growth")


def resolve_names(value: Any, knowledge: Knowledge, report: Report) -> Any:
    """A copy of the plain values with ids for names; problems go to ``report``."""
    if not isinstance(value, Mapping):
        return value
    lawn = dict(value)
    resolver = _Resolver(knowledge, report)
    for key in _WORD_KEYS:
        if isinstance(lawn.get(key), str):
            lawn[key] = _as_word(lawn[key])
    resolver.replace(lawn, "turf", (), resolver.turf)
    resolver.replace(lawn, "place", (), resolver.place)
    resolver.replace(lawn, "state", (), resolver.state)
    if isinstance(lawn.get("cultivar"), str):
        lawn["cultivar"] = _cultivar(lawn["cultivar"], lawn.get("turf"), knowledge)
    zones = lawn.get("zones")
    names = (
        [zone["name"] for zone in zones if isinstance(zone, Mapping) and isinstance(zone.get("name"), str)]
        if isinstance(zones, list)
        else []
    )
    lawn["zones"] = resolver.rows(zones, ("zones",), lambda row, path: resolver.zone(row, path, names))
    for key in ("history", "label_rates"):
        lawn[key] = resolver.rows(
            lawn.get(key), (key,), lambda row, path: resolver.replace(row, "control", path, resolver.control)
        )
    lawn["seedings"] = resolver.rows(
        lawn.get("seedings"), ("seedings",), lambda row, path: resolver.replace(row, "turf", path, resolver.turf)
    )
    for key in ("trees", "history"):
        lawn[key] = resolver.rows(lawn.get(key), (key,), lambda row, path: resolver.zone_names(row, path, names))
    return {key: item for key, item in lawn.items() if item is not None or key in value}


def _as_word(text: str) -> str:
    return re.sub(r"[\s-]+", "_", text.strip().lower())


def _cultivar(text: str, turf: Any, knowledge: Knowledge) -> str:
    """The id of a cultivar that the turf lists; any other stays as typed, since most of them matter to nothing."""
    entry = knowledge.turfs.get(turf) if isinstance(turf, str) else None
    wanted = normalise(text)
    return next(
        (
            item.id
            for item in (entry.cultivars if entry else ())
            if wanted in (normalise(item.id), normalise(item.name))
        ),
        text,
    )


class _Resolver:
    """Finds entries by name and reports names that fit nothing."""

    def __init__(self, knowledge: Knowledge, report: Report) -> None:
        self._knowledge = knowledge
        self._report = report

    def rows(self, rows: Any, path: KeyPath, change: Callable[[dict[str, Any], KeyPath], Any]) -> Any:
        """A copy of a list of rows, each row changed; anything else as it is."""
        if not isinstance(rows, list):
            return rows
        made: list[Any] = []
        for index, row in enumerate(rows):
            copy = dict(row) if isinstance(row, Mapping) else row
            if isinstance(copy, dict):
                change(copy, (*path, index))
            made.append(copy)
        return made

    def replace(self, row: dict[str, Any], key: str, path: KeyPath, find: Callable[[str, KeyPath], str]) -> None:
        """Put the id in place of the name under one key."""
        if isinstance(row.get(key), str):
            row[key] = find(row[key], (*path, key))

    def turf(self, name: str, path: KeyPath) -> str:
        """The id of a turf."""
        return self._find(self._knowledge.turfs, "turf", name, path)

    def place(self, name: str, path: KeyPath) -> str:
        """The id of a place."""
        return self._find(self._knowledge.places, "place", name, path)

    def control(self, name: str, path: KeyPath) -> str:
        """The id of a control."""
        return self._find(self._knowledge.controls, "control", name, path)

    def state(self, text: str, path: KeyPath) -> str:
        """A state as two capital letters."""
        if not re.fullmatch(r"[A-Za-z]{2}", text):
            self._report.add(path, "lawn-state", f"{text!r} is not a state", "two letters such as TX")
        return text.upper()

    def _find(self, entries: Mapping[str, Any], kind: str, name: str, path: KeyPath) -> str:
        try:
            return str(find_entry(entries, kind, name).id)
        except UnknownName as error:
            self._report.add(path, "lawn-name", _unknown(error), "" if error.nearest else f"the name or id of a {kind}")
            return name

    def zone(self, zone: dict[str, Any], path: KeyPath, names: list[str]) -> None:
        """Names of one zone, and the rows of its weeds."""
        self.replace(zone, "turf", path, self.turf)
        if isinstance(zone.get("name"), str) and names.index(zone["name"]) != path[-1]:
            self._report.add(
                (*path, "name"), "lawn-zones", f"there are two zones {zone['name']!r}", "another name for each zone"
            )
        if "area_m2" in zone and "area_sqft" in zone:
            self._report.add((*path, "area_m2"), "lawn-area", "the area is given twice", "area_sqft or area_m2")
        area = zone.get("area_sqft", _square_feet(zone.get("area_m2")))
        zone["weeds"] = self.rows(zone.get("weeds"), (*path, "weeds"), lambda row, spot: self.finding(row, spot, area))
        if zone["weeds"] is None:
            del zone["weeds"]

    def zone_names(self, row: dict[str, Any], path: KeyPath, names: list[str]) -> None:
        """Zones that a tree or an application names must be zones of this lawn."""
        listed = row.get("zones")
        for place, name in enumerate(listed if isinstance(listed, list) else ()):
            if isinstance(name, str) and name not in names:
                self._report.add(
                    (*path, "zones", place),
                    "lawn-zones",
                    f"the lawn has no zone {name!r}",
                    "one of " + ", ".join(names),
                    nearest_or_none(name, names) or "",
                )

    def finding(self, row: dict[str, Any], path: KeyPath, area_sqft: Any) -> None:
        """One row of weeds: a name, candidates, or looks only."""
        given = [key for key in ("weed", "candidates") if key in row]
        if len(given) > 1:
            self._report.add(
                (*path, "candidates"), "lawn-weed", "weed and candidates exclude each other", "one of the two"
            )
            del row["candidates"]
        if isinstance(row.get("weed"), str):
            row["weed"] = self.weed(row["weed"], (*path, "weed"))
        if isinstance(row.get("candidates"), Mapping):
            row["candidates"] = self._candidates(row["candidates"], (*path, "candidates"))
        elif isinstance(row.get("candidates"), list):
            row["candidates"] = [
                self.weed(name, (*path, "candidates", i)) if isinstance(name, str) else name
                for i, name in enumerate(row["candidates"])
            ]
        if row.get("candidates") in ({}, []) and not row.get("looks"):
            self._report.add(
                (*path, "candidates"),
                "lawn-weed",
                "there are no candidates",
                "at least two weeds, or the looks that were seen",
            )
        if not given and row.get("looks"):
            row["candidates"] = {}
        row["looks"] = self.rows(row.get("looks"), (*path, "looks"), self.look)
        if row["looks"] is None:
            del row["looks"]
        if isinstance(row.get("stage"), str):
            row["stage"] = _as_word(row["stage"])
        if "cover" not in row:
            self._cover_from_spots(row, path, area_sqft)

    def _candidates(self, given: Mapping[str, Any], path: KeyPath) -> dict[str, Any]:
        made: dict[str, Any] = {}
        for name, weight in given.items():
            found = self.weed(name, (*path, name))
            if found in made:
                self._report.add(
                    (*path, name), "lawn-weed", f"{found} stands twice under other names", "each candidate once"
                )
            made[found] = weight
        return made

    def weed(self, name: str, path: KeyPath) -> str:
        """The id of a weed; a grass that is known as turf is found as the weed entry of the same grass."""
        try:
            return find_entry(self._knowledge.weeds, "weed", name).id
        except UnknownName as error:
            if (same := self._weed_of_turf_or_none(name)) is not None:
                return same
            write = self._unsettled_advice(name, error)
            self._report.add(
                path, "lawn-name", _unknown(error), "" if error.nearest else "the name or id of a weed", write
            )
            return name

    def _weed_of_turf_or_none(self, name: str) -> str | None:
        try:
            turf = find_entry(self._knowledge.turfs, "turf", name)
        except UnknownName:
            return None
        return next((weed.id for weed in self._knowledge.weeds.values() if weed.turf == turf.id), None)

    def _unsettled_advice(self, name: str, error: UnknownName) -> str:
        """What to write for a plant that is not settled: its candidates, or what was seen."""
        bare = _UNSETTLED.sub(" ", name).strip()
        if bare == name.strip() and len(error.nearest) == 1:
            return ""
        hits = [match.id for match in search(self._knowledge, bare, limit=3)] if bare else []
        listed = ", ".join(f"{key}: {1 / len(hits):.2g}" for key in hits)
        group = next((_GROUP_WORDS[word] for word in normalise(bare).split() if word in _GROUP_WORDS), "grassy")
        looks = f"looks: [{{trait: plant_group, states: [{group}]}}]"
        return (
            f"candidates: {{{listed}}}, or {looks}" if hits else f"candidates with the weeds that it may be, or {looks}"
        )

    def look(self, row: dict[str, Any], path: KeyPath) -> None:
        """The look and its states, by id or by their words."""
        if not isinstance(row.get("trait"), str):
            return
        row["trait"] = self._find(self._knowledge.traits, "look", row["trait"], (*path, "trait"))
        trait = self._knowledge.traits.get(row["trait"])
        states = row.get("states")
        if trait is None or not isinstance(states, list):
            return
        row["states"] = [
            self._state(trait, state, (*path, "states", place)) if isinstance(state, str) else state
            for place, state in enumerate(states)
        ]

    def _state(self, trait: Trait, text: str, path: KeyPath) -> str:
        wanted = normalise(text)
        for state in trait.states:
            if wanted in {normalise(state.id), normalise(state.words), *(normalise(word) for word in state.also)}:
                return state.id
        write = nearest_or_none(_as_word(text), trait.state_ids) or ""
        self._report.add(
            path,
            "lawn-name",
            f"the look {trait.id} has no state {text!r}",
            "one of " + ", ".join(trait.state_ids),
            write,
        )
        return text

    def _cover_from_spots(self, row: dict[str, Any], path: KeyPath, area_sqft: Any) -> None:
        """Without a cover, single plants count as circles: count x pi/4 x diameter squared, in percent of the zone."""
        spots = row.get("spots")
        figures = [spots.get("count"), spots.get("diameter_in")] if isinstance(spots, Mapping) else []
        if not figures or not all(_is_number(figure) for figure in (*figures, area_sqft)) or area_sqft <= 0:
            return
        covered_sqft = float(figures[0] or 0) * math.pi / 4 * (float(figures[1] or 0) / 12) ** 2
        percent = 100 * covered_sqft / area_sqft
        if percent > 100:
            self._report.add(
                (*path, "spots"), "lawn-cover", f"the spots cover {percent:.0f} percent of the zone", "at most its area"
            )
        row["cover"] = min(100.0, round(percent, 3))


def _unknown(error: UnknownName) -> str:
    """The unknown name and the nearest ones as one clause."""
    text = f"no {error.kind} is called {error.name!r}"
    return f"{text}; did you mean {' or '.join(error.nearest[:3])}" if error.nearest else text


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _square_feet(area_m2: Any) -> Any:
    return area_m2 / SQFT_M2 if _is_number(area_m2) else None
