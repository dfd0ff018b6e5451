"""Exact search: which visits, with which controls, handle most with least.

Order of aims: most weight handled, then fewest visits, then fewest active ingredients, then least repetition of a
class, then best results, then earliest; ties by fixed order. Nothing is approximated: a lawn too large to weigh
exactly is refused.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from weedkey.errors import WeedkeyError

#: Beyond these sizes the search would take too long to promise an optimum: 25 weeds, each to be treated and prevented.
MOST_TARGETS = 50
MOST_WINDOWS = 26
MOST_NODES = 400_000
#: Aims that the floor of a branch speaks of: weight, visits, actives, repeats.
_BOUNDED = 4


class PlanTooLarge(WeedkeyError):
    """The lawn has more open choices than the search can weigh exactly."""

    def __init__(self, targets: int, windows: int) -> None:
        super().__init__(targets, windows)
        self.targets = targets
        self.windows = windows

    def __str__(self) -> str:
        return (
            f"{self.targets} tasks in {self.windows} windows are more than can be planned exactly."
            f" Expected at most {MOST_TARGETS // 2} weeds (each handled, and kept from coming back): plan zone by zone."
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
    options = [option for option in options if _keeps_limits((option,), limits)]
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
    # Limits keep some target out: visits and controls are weighed together.
    every: dict[int, list[Option]] = {}
    for option in options:
        every.setdefault(option.target, []).append(option)
    return _better(best, _Assignment(every, weights, limits).weigh_all(best)) or best or Found((), 0.0, 0, 0, 0)


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
    return _Assignment(usable, weights, limits, best, len(windows)).solve()


class _Assignment:
    """The best options within one set of windows.

    Without a limit that binds, each target takes its own best option once the set of active ingredients is fixed,
    because visits and actives are then paid for. So the sets of actives are searched, smallest first. Where a limit
    binds, options are branched on. Sets of actives are held as bits of a number.
    """

    def __init__(
        self,
        usable: Mapping[int, list[Option]],
        weights: Sequence[float],
        limits: Limits,
        best: Found | None = None,
        visits: int = 0,
    ) -> None:
        self._targets = sorted(usable, key=lambda target: (len(usable[target]), target))
        self._usable = usable
        self._weights = weights
        self._limits = limits
        self._nodes = 0
        self._best = best if best is not None and best.visits == visits else None
        names = sorted({active for rows in usable.values() for o in rows for active in self._actives(o)})
        self._names = names
        bits = {name: 1 << number for number, name in enumerate(names)}
        #: target -> (actives as bits, repeats, rank, window) of its options, best first
        self._rows = {
            target: sorted(
                (
                    limits.repeats.get(o.control, 0),
                    o.rank,
                    o.window,
                    sum(bits[active] for active in self._actives(o)),
                )
                for o in usable[target]
            )
            for target in self._targets
        }
        #: target -> the least sets of actives that serve it (no set that holds another one)
        self._needs = {target: _least({row[3] for row in rows}) for target, rows in self._rows.items()}

    def solve(self) -> Found | None:
        """The optimum over these targets; None if it is no better than the best that is known."""
        least, _ = self._packing(0)
        for size in range(least, len(self._names) + 1):
            best = self._best
            if best is not None and best.actives < size and best.weight >= self._total() - 1e-9:
                return None
            found: Found | None = None
            for chosen in self._hitting_sets(size, lambda: found):  # noqa: B023 - asked while this size is searched
                own_best = self._own_best(self._named(chosen))
                if not _keeps_limits(own_best, self._limits):
                    return self.weigh_all(found or self._best)
                found = _better(found, _found(own_best, self._weights, self._limits))
            if found is not None:
                return found
        return self.weigh_all(self._best)

    def _total(self) -> float:
        return sum(self._weights[target] for target in self._targets)

    def _named(self, bits: int) -> frozenset[str]:
        return frozenset(name for number, name in enumerate(self._names) if bits >> number & 1)

    def _actives(self, option: Option) -> frozenset[str]:
        return self._limits.actives.get(option.control, frozenset())

    def _packing(self, chosen: int, since: int = 0) -> tuple[int, int]:
        """Targets of which each needs an active of its own, counted greedily, and all actives that could serve them.

        At least so many actives must be added to ``chosen``. ``since``: place of the first target that counts.
        """
        count, used = 0, 0
        for target in self._targets[since:]:
            wanted = 0
            for need in self._needs[target]:
                more = need & ~chosen
                if not more:
                    break
                wanted |= more
            else:
                if not wanted & used:
                    count += 1
                    used |= wanted
        return count, used

    def _hitting_sets(self, size: int, found: Callable[[], Found | None]) -> Iterator[int]:
        """Sets of ``size`` actives with which each target has an option, as bits; each once, in a fixed order. Those
        that cannot come out better than what is ``found`` are passed over.
        """
        seen: set[int] = set()

        def grow(chosen: int) -> Iterator[int]:
            if chosen in seen:
                return
            seen.add(chosen)
            self._count()
            least, used = self._packing(chosen)
            spare = size - chosen.bit_count() - least
            if spare < 0:
                return
            # With nothing to spare only actives of the packed targets can still be added.
            universe = chosen | used if spare == 0 else -1
            if not self._could_be_better(universe, size, found()):
                return
            if least == 0:
                if spare == 0:
                    yield chosen
                return
            for need in self._next_needs(chosen, universe):
                yield from grow(chosen | need)

        yield from grow(0)

    def _next_needs(self, chosen: int, universe: int) -> list[int]:
        """The ways to serve the open target that has fewest of them."""
        ways: list[int] | None = None
        for target in self._targets:
            needs = self._needs[target]
            if any(not need & ~chosen for need in needs):
                continue
            open_ways = [need for need in needs if not need & ~universe] if universe >= 0 else needs
            if ways is None or len(open_ways) < len(ways):
                ways = open_ways
        return ways or []

    def _could_be_better(self, universe: int, size: int, found: Found | None) -> bool:
        """False if even each target's own best option within these actives leaves the whole behind what is known."""
        repeats = ranks = windows = 0
        for target in self._targets:
            row = next((r for r in self._rows[target] if universe < 0 or not r[3] & ~universe), None)
            if row is None:
                return False
            repeats, ranks, windows = repeats + row[0], ranks + row[1], windows + row[2]
        for known in (found, self._best):
            if known is not None and known.actives == size and known.weight >= self._total() - 1e-9:
                so_far = (
                    known.repeats,
                    sum(option.rank for option in known.options),
                    sum(option.window for option in known.options),
                )
                if (repeats, ranks, windows) > so_far:
                    return False
        return True

    def _own_best(self, chosen: frozenset[str]) -> tuple[Option, ...]:
        allowed = {t: [o for o in self._usable[t] if self._actives(o) <= chosen] for t in self._targets}
        return tuple(min(allowed[t], key=self._own_key) for t in self._targets)

    def _own_key(self, option: Option) -> tuple[int, int, int, str]:
        return (self._limits.repeats.get(option.control, 0), option.rank, option.window, option.control)

    def weigh_all(self, best: Found | None = None) -> Found | None:
        """The best of all assignments that keep the limits, targets left out included, by branch and bound: a branch is
        cut when what it has spent already, with the least that the rest must spend, is more than the best known.
        """
        rest = self._least_of_rest()
        stack: list[tuple[int, tuple[Option, ...], float]] = [(0, (), 0.0)]
        total = self._total()
        while stack:
            depth, taken, lost = stack.pop()
            self._count()
            if best is not None and self._floor(taken, total - lost, rest[depth]) > _key(best)[:_BOUNDED]:
                continue
            if depth == len(self._targets):
                best = _better(best, _found(taken, self._weights, self._limits))
                continue
            target = self._targets[depth]
            stack.append((depth + 1, taken, lost + self._weights[target]))
            for option in sorted(self._usable[target], key=self._own_key, reverse=True):
                if _keeps_limits((*taken, option), self._limits):
                    stack.append((depth + 1, (*taken, option), lost))
        return best

    def _least_of_rest(self) -> list[int]:
        """For each depth the fewest repeats that the targets from there on must have if all are handled."""
        least = [0]
        for target in reversed(self._targets):
            least.append(least[-1] + min(row[0] for row in self._rows[target]))
        return least[::-1]

    def _floor(self, taken: tuple[Option, ...], weight: float, rest: int) -> tuple[object, ...]:
        """What every assignment that begins with ``taken`` costs at least, in the order of the aims."""
        actives = {active for option in taken for active in self._actives(option)}
        windows = {option.window for option in taken}
        # If targets are left out their repeats fall away; then the weight is less than the best and decides before.
        repeats = sum(self._limits.repeats.get(option.control, 0) for option in taken)
        if weight < self._total() - 1e-9:
            return (-round(weight, 9), len(windows), len(actives), repeats)
        mask = sum(1 << number for number, name in enumerate(self._names) if name in actives)
        more, _ = self._packing(mask, len(taken))
        return (-round(weight, 9), len(windows), len(actives) + more, repeats + rest)

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


def _least(needs: set[int]) -> list[int]:
    """The sets that hold no other one, in a fixed order."""
    return sorted(need for need in needs if not any(other != need and other & need == other for other in needs))


def _windows_by_active(taken: Sequence[Option], limits: Limits) -> Iterator[tuple[str, list[int]]]:
    found: dict[str, set[int]] = {}
    for option in taken:
        for active in limits.actives.get(option.control, ()):
            found.setdefault(active, set()).add(option.window)
    for active, windows in found.items():
        yield active, sorted(windows)
