"""Exact search: which visits, with which controls, handle most with least.

Order of aims: most weight handled, then fewest visits, then fewest active ingredients, then least repetition of a
class, then best results, then earliest; ties by fixed order. Nothing is approximated: a lawn too large to weigh
exactly is refused.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

from weedkey.errors import WeedkeyError

#: Beyond these sizes the search would take too long to promise an optimum.
MOST_TARGETS = 25
MOST_WINDOWS = 26
MOST_NODES = 2_000_000


class PlanTooLarge(WeedkeyError):
    """The lawn has more open choices than the search can weigh exactly."""

    def __init__(self, targets: int, windows: int) -> None:
        super().__init__(targets, windows)
        self.targets = targets
        self.windows = windows

    def __str__(self) -> str:
        return (
            f"{self.targets} weeds in {self.windows} windows are more than can be planned exactly."
            f" Expected at most {MOST_TARGETS} weeds: plan the lawn zone by zone."
        )


@dataclass(frozen=True, slots=True)
class Option:
    """One way to handle one target: in which window, with which control; ``rank`` orders results (0 is best)."""

    target: int
    window: int
    control: str
    rank: int = 0


@dataclass(frozen=True, slots=True)
class Limits:
    """What the options share. ``actives``: control -> active ingredients (empty for measures without chemistry);
    ``repeats``: control -> classes used lately; ``yearly``: active -> most applications; ``interval``: active -> least
    windows between two applications.
    """

    actives: Mapping[str, frozenset[str]]
    repeats: Mapping[str, int]
    yearly: Mapping[str, int]
    interval: Mapping[str, int]


@dataclass(frozen=True, slots=True)
class Found:
    """The best choice of options, one for each target that can be handled, with the cost it was chosen by."""

    options: tuple[Option, ...]
    weight: float
    visits: int
    actives: int
    repeats: int


def search(options: Sequence[Option], weights: Sequence[float], limits: Limits) -> Found:
    """The optimum. ``weights``: one weight a target, above 0. Raises PlanTooLarge beyond the proven size."""
    targets = {option.target for option in options}
    windows = sorted({option.window for option in options})
    if len(targets) > MOST_TARGETS or len(windows) > MOST_WINDOWS:
        raise PlanTooLarge(len(targets), len(windows))
    total = sum(weights[target] for target in targets)
    best: Found | None = None
    for count in range(len(windows) + 1):
        for chosen in _full_covers(options, targets, count):
            best = _better(best, _within(options, weights, limits, chosen, best))
        if best is not None and best.weight >= total - 1e-9:
            return best
    # Limits keep some target out: every set of windows must be weighed.
    for count in range(len(windows) + 1):
        for some in combinations(windows, count):
            best = _better(best, _within(options, weights, limits, frozenset(some), best))
    return best or Found((), 0.0, 0, 0, 0)


def _better(best: Found | None, found: Found | None) -> Found | None:
    if found is None or (best is not None and _key(best) <= _key(found)):
        return best
    return found


def _full_covers(options: Sequence[Option], targets: set[int], count: int) -> Iterator[frozenset[int]]:
    """Every set of ``count`` windows in which each target has an option (each set once, in a fixed order)."""
    by_target: dict[int, set[int]] = {target: set() for target in targets}
    for option in options:
        by_target[option.target].add(option.window)
    order = sorted(by_target, key=lambda target: (len(by_target[target]), target))
    seen: set[frozenset[int]] = set()

    def grow(chosen: frozenset[int]) -> Iterator[frozenset[int]]:
        open_target = next((target for target in order if not by_target[target] & chosen), None)
        if open_target is None:
            if len(chosen) == count and chosen not in seen:
                seen.add(chosen)
                yield chosen
            return
        if len(chosen) < count:
            for window in sorted(by_target[open_target]):
                yield from grow(chosen | {window})

    yield from grow(frozenset())


def _key(found: Found) -> tuple[object, ...]:
    ranks = sum(option.rank for option in found.options)
    windows = sum(option.window for option in found.options)
    names = tuple(sorted((o.target, o.window, o.control) for o in found.options))
    return (-round(found.weight, 9), found.visits, found.actives, found.repeats, ranks, windows, names)


def _within(
    options: Sequence[Option], weights: Sequence[float], limits: Limits, windows: frozenset[int], best: Found | None
) -> Found | None:
    """The best assignment that uses only these windows; None if it cannot beat ``best``."""
    usable: dict[int, list[Option]] = {}
    for option in options:
        if option.window in windows:
            usable.setdefault(option.target, []).append(option)
    weight = sum(weights[target] for target in usable)
    if best is not None and weight < best.weight - 1e-9:
        return None
    return _Assignment(usable, weights, limits).solve()


class _Assignment:
    """The best options within one set of windows.

    Without a limit that binds, each target takes its own best option once the set of active ingredients is fixed,
    because visits and actives are then paid for. So the sets of actives are searched, smallest first. Where a limit
    binds, options are branched on.
    """

    def __init__(self, usable: Mapping[int, list[Option]], weights: Sequence[float], limits: Limits) -> None:
        self._targets = sorted(usable, key=lambda target: (len(usable[target]), target))
        self._usable = usable
        self._weights = weights
        self._limits = limits
        self._nodes = 0

    def solve(self) -> Found | None:
        """The optimum over these targets."""
        every = frozenset(active for rows in self._usable.values() for o in rows for active in self._actives(o))
        for size in range(len(every) + 1):
            best: Found | None = None
            for chosen in self._hitting_sets(size):
                best = _better(best, self._with_actives(chosen))
            if best is not None:
                return best
        return self._branch_and_bound(self._usable, may_leave=True)

    def _actives(self, option: Option) -> frozenset[str]:
        return self._limits.actives.get(option.control, frozenset())

    def _hitting_sets(self, size: int) -> Iterator[frozenset[str]]:
        """Every set of ``size`` actives with which each target has an option."""
        needs = {t: {self._actives(o) for o in self._usable[t]} for t in self._targets}
        seen: set[frozenset[str]] = set()

        def grow(chosen: frozenset[str]) -> Iterator[frozenset[str]]:
            if chosen in seen:
                return
            seen.add(chosen)
            self._count()
            open_targets = [t for t in self._targets if not any(need <= chosen for need in needs[t])]
            if not open_targets:
                if len(chosen) == size:
                    yield chosen
                return
            target = min(open_targets, key=lambda t: (len(needs[t]), t))
            for need in sorted(needs[target], key=sorted):
                grown = chosen | need
                if len(grown) <= size:
                    yield from grow(grown)

        yield from grow(frozenset())

    def _with_actives(self, chosen: frozenset[str]) -> Found | None:
        allowed = {t: [o for o in self._usable[t] if self._actives(o) <= chosen] for t in self._targets}
        own_best = tuple(min(allowed[t], key=self._own_key) for t in self._targets)
        if _keeps_limits(own_best, self._limits):
            return _found(own_best, self._weights, self._limits)
        return self._branch_and_bound(allowed, may_leave=False)

    def _own_key(self, option: Option) -> tuple[int, int, int, str]:
        return (self._limits.repeats.get(option.control, 0), option.rank, option.window, option.control)

    def _branch_and_bound(self, allowed: Mapping[int, list[Option]], *, may_leave: bool) -> Found | None:
        """All assignments that keep the limits, best first; ``may_leave`` lets a target go unhandled."""
        best: Found | None = None
        stack: list[tuple[int, tuple[Option, ...], float]] = [(0, (), 0.0)]
        total = sum(self._weights[target] for target in self._targets)
        while stack:
            depth, taken, lost = stack.pop()
            self._count()
            if best is not None and total - lost < best.weight - 1e-9:
                continue
            if depth == len(self._targets):
                best = _better(best, _found(taken, self._weights, self._limits))
                continue
            target = self._targets[depth]
            if may_leave:
                stack.append((depth + 1, taken, lost + self._weights[target]))
            for option in sorted(allowed[target], key=self._own_key, reverse=True):
                if _keeps_limits((*taken, option), self._limits):
                    stack.append((depth + 1, (*taken, option), lost))
        return best

    def _count(self) -> None:
        self._nodes += 1
        if self._nodes > MOST_NODES:
            windows = {option.window for rows in self._usable.values() for option in rows}
            raise PlanTooLarge(len(self._targets), len(windows))


def _found(taken: Sequence[Option], weights: Sequence[float], limits: Limits) -> Found:
    actives = {active for option in taken for active in limits.actives.get(option.control, ())}
    return Found(
        tuple(sorted(taken, key=lambda o: (o.window, o.control, o.target))),
        sum(weights[option.target] for option in taken),
        len({option.window for option in taken}),
        len(actives),
        sum(limits.repeats.get(option.control, 0) for option in taken),
    )


def _keeps_limits(taken: Sequence[Option], limits: Limits) -> bool:
    """No active ingredient more often, or at shorter notice, than is published or typed."""
    for active, windows in _windows_by_active(taken, limits):
        most = limits.yearly.get(active)
        if most is not None and len(windows) > most:
            return False
        gap = limits.interval.get(active)
        if gap is not None and any(later - earlier < gap for earlier, later in pairwise(windows)):
            return False
    return True


def _windows_by_active(taken: Sequence[Option], limits: Limits) -> Iterator[tuple[str, list[int]]]:
    found: dict[str, set[int]] = {}
    for option in taken:
        for active in limits.actives.get(option.control, ()):
            found.setdefault(active, set()).add(option.window)
    for active, windows in found.items():
        yield active, sorted(windows)
