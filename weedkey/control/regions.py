"""For the key: each weed's treatment here as a region. Weeds with the same region need not be told apart."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from weedkey.control.gatebook import Shelf
from weedkey.control.setting import Setting
from weedkey.control.verdicts import Ruling, rule_on
from weedkey.errors import UnknownName
from weedkey.model.base import Knowledge
from weedkey.model.region import Region

#: Verdicts whose action kills turf: taking it for the wrong plant cannot be undone.
_KILLS = frozenset({"spot_treatment_only", "renovate"})
#: Harm of a wrong action: it kills or injures turf, or it merely fails (decision theory of the key).
HARM_KILLS = 1.0
HARM_FAILS = 0.2


def decision_regions(knowledge: Knowledge, setting: Setting, ahead: Sequence[Setting] = ()) -> Mapping[str, Region]:
    """The region of every weed of the knowledge in this setting. Raises UnknownName for a turf that is not known.

    Actions are control ids for what is done now (``treat_now``, on the spot, renovation); for the other verdicts they
    are ``wait_for:<control>``, ``prevent:<control>`` or ``leave_it``, because doing it now is not what they accept.
    """
    if setting.turf not in knowledge.turfs:
        raise UnknownName("turf", setting.turf)
    shared: dict[Region, Region] = {}
    regions: dict[str, Region] = {}
    shelf = Shelf(knowledge, setting, ahead)
    for weed in knowledge.weeds.values():
        region = _region_of(rule_on(shelf, (weed,), seconds=False))
        regions[weed.id] = shared.setdefault(region, region)
    return regions


def controls_of(region: Region) -> tuple[str, ...]:
    """The control ids in a region's actions, in alphabetical order."""
    named = {action.partition(":")[2] or action for action in region.actions}
    return tuple(sorted(named - {"leave_it", "wait_for", "prevent"}))


def _region_of(ruling: Ruling) -> Region:
    controls = sorted(ruling.route.controls)
    if ruling.kind == "leave_it":
        actions = frozenset(("leave_it",))
    elif ruling.kind in ("wait_for", "prevent"):
        actions = frozenset(f"{ruling.kind}:{control}" for control in controls) or frozenset((ruling.kind,))
    else:
        actions = frozenset(controls) or frozenset((ruling.kind,))
    kills = ruling.kind in _KILLS
    return Region(
        id=f"{ruling.kind}[{'+'.join(controls)}]",
        kind=ruling.kind,
        actions=actions,
        harm=HARM_KILLS if kills else HARM_FAILS,
        irreversible=kills,
    )
