"""The whole knowledge, indexed. Built by ``weedkey.knowledge``; everything else only reads it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from weedkey.errors import Issue

if TYPE_CHECKING:  # a command loads the classes of the entries that it reads, not all of them
    from weedkey.model.condition import Condition
    from weedkey.model.control import Control
    from weedkey.model.place import Place
    from weedkey.model.source import Source
    from weedkey.model.trait import Trait
    from weedkey.model.turf import Turf
    from weedkey.model.weed import Weed


@dataclass(frozen=True, slots=True)
class Knowledge:
    """All entries by id, in a fixed order. ``left_out`` names local files that could not be used."""

    weeds: Mapping[str, Weed]
    traits: Mapping[str, Trait]
    turfs: Mapping[str, Turf]
    controls: Mapping[str, Control]
    conditions: Mapping[str, Condition]
    places: Mapping[str, Place]
    sources: Mapping[str, Source]
    left_out: tuple[Issue, ...] = field(default=())
    digest: str = ""
