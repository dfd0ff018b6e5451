"""All checks, in the order in which they run."""

from __future__ import annotations

from weedkey.knowledge.checks import controls, facts, identity, links, looks, pairs, seasons, wording
from weedkey.knowledge.checks.base import Check

CHECKS: tuple[Check, ...] = (
    identity.IdStem(),
    identity.NameClash(),
    identity.FileHead(),
    facts.SourceUnknown(),
    facts.SourceUnused(),
    facts.SourceTwice(),
    facts.SeenRule(),
    links.Reference(),
    looks.LookGroup(),
    looks.LookOrder(),
    looks.ShareSum(),
    looks.ThinMarks(),
    seasons.CalendarSane(),
    seasons.LifeCycleCalendar(),
    seasons.ClimateSane(),
    seasons.FigureOrder(),
    pairs.LookAlikeTell(),
    pairs.LookAlikeUnscored(),
    pairs.PairUnseparated(),
    controls.MixtureParts(),
    controls.ClassMissing(),
    controls.KnownAndNotKnown(),
    controls.OnlyDated(),
    wording.BrandName(),
    wording.ProductRate(),
    wording.TradeSpelling(),
    wording.Units(),
)
