"""A control: an active ingredient, a mixture sold as such, or a measure without chemistry. Never a product,
never a rate.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from weedkey.model.source import Sighting, require_sources
from weedkey.model.vocabulary import CHEMICAL_KINDS
from weedkey.model.weed import Caution, Sequence
from weedkey.model.window import Window


@dataclass(frozen=True, slots=True)
class ControlClass:
    """HRAC and WSSA group (texts such as "4" or "not classified") and mode of action."""

    hrac: str
    wssa: str
    mode: str
    sources: tuple[str, ...]
    legacy_wssa: str = ""

    def __post_init__(self) -> None:
        require_sources(self.sources, "control class")


@dataclass(frozen=True, slots=True)
class When:
    """Under which conditions a tolerance row was stated. Empty = not stated. All stated conditions must
    hold together.
    """

    growth: tuple[str, ...] = ()
    stand: tuple[str, ...] = ()
    cultivars: tuple[str, ...] = ()
    not_cultivars: tuple[str, ...] = ()
    sites: tuple[str, ...] = ()
    regions: tuple[str, ...] = ()
    months: tuple[Window, ...] = ()
    air_above_f: float | None = None
    air_below_f: float | None = None
    rate: str | None = None
    mixed_with: tuple[str, ...] = ()
    timing: str | None = None
    stand_min_days: int | None = None


@dataclass(frozen=True, slots=True)
class Tolerance:
    """How a turf stands a control: safe, caution, injures, not_labelled. ``turf`` is an id, or any,
    any_warm_season, any_cool_season.

    ``listed``: the source names the use without grading it (weak evidence of safety).
    """

    turf: str
    result: str
    sources: tuple[str, ...]
    when: When = When()
    listed: bool = False
    injury_percent: tuple[float, float] | None = None
    lasts_weeks: float | None = None
    sequence: Sequence | None = None
    adjuvant: str = ""
    year: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        require_sources(self.sources, f"tolerance of {self.turf}")


@dataclass(frozen=True, slots=True)
class SiteRule:
    """What the law or a federal decision says of a site: allowed, restricted (needs ``licence`` or obeys
    ``terms``), barred.
    """

    site: str
    rule: str
    sources: tuple[str, ...]
    states: tuple[str, ...] = ()
    licence: bool = False
    spot_only: bool = False
    terms: str = ""
    year: str = ""

    def __post_init__(self) -> None:
        require_sources(self.sources, f"site rule {self.site}")


@dataclass(frozen=True, slots=True)
class Limit:
    """A number that opens or shuts the day: ``kind`` is one of LIMIT_KINDS, ``value`` in the unit that the
    kind names.
    """

    kind: str
    value: float
    sources: tuple[str, ...]
    turfs: tuple[str, ...] = ()
    note: str = ""

    def __post_init__(self) -> None:
        require_sources(self.sources, f"limit {self.kind}")


@dataclass(frozen=True, slots=True)
class Reseeding:
    """Days from application to seeding (``after_days``) or from seeding to application (``before_days``);
    None = not stated.
    """

    sources: tuple[str, ...]
    turf: str = "any"
    method: str = "any"
    after_days: int | None = None
    before_days: int | None = None
    mowings_before: int | None = None
    blocks_seed: bool = False
    allowed_at_seeding: bool = False
    note: str = ""

    def __post_init__(self) -> None:
        require_sources(self.sources, "reseeding interval")


@dataclass(frozen=True, slots=True)
class Yearly:
    """Yearly limits that were published: number of applications, least days between, total active
    ingredient.
    """

    sources: tuple[str, ...]
    applications: int | None = None
    interval_days: int | None = None
    amount: float | None = None
    unit: str = ""
    turfs: tuple[str, ...] = ()
    note: str = ""

    def __post_init__(self) -> None:
        require_sources(self.sources, "yearly limit")


@dataclass(frozen=True, slots=True)
class Adjuvant:
    """Whether a wetting agent or oil is required, helps, is built in, or is forbidden."""

    need: str
    what: str
    sources: tuple[str, ...]

    def __post_init__(self) -> None:
        require_sources(self.sources, "adjuvant")


@dataclass(frozen=True, slots=True)
class Resistance:
    """A weed of which resistant populations are published in turf; lists are minimum lists."""

    weed: str
    sources: tuple[str, ...]
    places: tuple[str, ...] = ()
    note: str = ""

    def __post_init__(self) -> None:
        require_sources(self.sources, f"resistance in {self.weed}")


@dataclass(frozen=True, slots=True)
class Interaction:
    """What a mixture changes: ``effect`` is safens, harms, antagonises or strengthens; ``with_control`` is
    an id or a word.
    """

    with_control: str
    effect: str
    sources: tuple[str, ...]
    turfs: tuple[str, ...] = ()
    note: str = ""

    def __post_init__(self) -> None:
        require_sources(self.sources, f"interaction with {self.with_control}")


@dataclass(frozen=True, slots=True)
class WorksOn:
    """A response by kind of plant, used where the weed has no row of its own for the control. Empty = any."""

    result: str
    sources: tuple[str, ...]
    groups: tuple[str, ...] = ()
    life_cycles: tuple[str, ...] = ()
    spreads_by: tuple[str, ...] = ()
    not_spreads_by: tuple[str, ...] = ()
    conditions: tuple[str, ...] = ()
    timing: str = "post_emergence"
    stages: tuple[str, ...] = ()
    note: str = ""

    def __post_init__(self) -> None:
        require_sources(self.sources, "works on")


@dataclass(frozen=True, slots=True)
class Gate:
    """A condition of turf and season on a measure without chemistry (do not aerate dormant turf), as data."""

    rule: str
    sources: tuple[str, ...]
    growth: tuple[str, ...] = ()
    turfs: tuple[str, ...] = ()
    months: tuple[Window, ...] = ()
    days_after_seeding: int | None = None
    note: str = ""

    def __post_init__(self) -> None:
        require_sources(self.sources, f"gate {self.rule}")


@dataclass(frozen=True, slots=True)
class Control:
    """One control. ``parts``: ids of the ingredients of a mixture. ``not_known``: turfs for which nothing
    was found.
    """

    id: str
    name: str
    kind: str
    sources: tuple[str, ...]
    control_class: ControlClass | None = None
    parts: tuple[str, ...] = ()
    also_called: tuple[str, ...] = ()
    former_ids: tuple[str, ...] = ()
    uptake: str = ""
    timings: tuple[str, ...] = ()
    tolerance: tuple[Tolerance, ...] = ()
    not_known: tuple[str, ...] = ()
    sites: tuple[SiteRule, ...] = ()
    limits: tuple[Limit, ...] = ()
    gates: tuple[Gate, ...] = ()
    reseeding: tuple[Reseeding, ...] = ()
    yearly: tuple[Yearly, ...] = ()
    adjuvants: tuple[Adjuvant, ...] = ()
    cautions: tuple[Caution, ...] = ()
    resistance: tuple[Resistance, ...] = ()
    interactions: tuple[Interaction, ...] = ()
    works_on: tuple[WorksOn, ...] = ()
    remedies: tuple[str, ...] = ()
    how: str = ""
    lasts_weeks: tuple[float, float] | None = None
    note: str = ""
    local: bool = field(default=False)
    seen: tuple[Sighting, ...] = ()

    def __post_init__(self) -> None:
        require_sources(self.sources, f"control {self.id}")

    @property
    def is_chemical(self) -> bool:
        """True for anything that carries a pesticide label."""
        return self.kind in CHEMICAL_KINDS
