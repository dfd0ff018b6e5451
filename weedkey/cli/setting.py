"""A few words on the command line, or a lawn file, become the lawn and the setting that the gates ask."""

from __future__ import annotations

import argparse
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

from weedkey.cli.arguments import read_day, read_word
from weedkey.errors import UsageError
from weedkey.knowledge.names import find_entry
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Lawn
from weedkey.model.vocabulary import GROWTH_STATES, REGIONS, SITES, STAND_STAGES

if TYPE_CHECKING:
    from weedkey.control import Setting

DEFAULT_SITE = "home_lawn"
COLDEST_F, HOTTEST_F = -60, 140


def lawn_from_words(args: argparse.Namespace, knowledge: Knowledge) -> Lawn:
    """A lawn without zones from --turf, --month, --place and the rest. Raises UsageError, UnknownName."""
    turf = find_entry(knowledge.turfs, "turf", args.turf).id
    place = find_entry(knowledge.places, "place", args.place).id if args.place else None
    if args.high is not None and not COLDEST_F <= args.high <= HOTTEST_F:
        raise UsageError(f"--high {args.high:g} is not an air temperature", f"{COLDEST_F} to {HOTTEST_F} °F")
    return Lawn(
        name="",
        on=read_day(args, date.today()),  # noqa: DTZ011 - the lawn's own calendar day, not an instant
        turf=turf,
        site=read_word(args.site, SITES, "site") if args.site else DEFAULT_SITE,
        zones=(),
        place=place,
        state=args.state.upper(),
        cultivar=args.cultivar,
        stand=read_word(args.stand, STAND_STAGES, "stand") if args.stand else "established",
        growth=read_word(args.growth, GROWTH_STATES, "growth state") if args.growth else None,
        air_high_f=args.high,
        licensed={"yes": True, "no": False}.get(args.licensed or ""),
    )


def region_from_words(args: argparse.Namespace) -> str | None:
    """The region that was typed, if any. Raises UsageError."""
    return read_word(args.region, REGIONS, "region") if args.region else None


def settings_from_words(
    args: argparse.Namespace, knowledge: Knowledge, *, ahead: bool = True, barriers: bool = True
) -> tuple[Setting, tuple[Setting, ...]]:
    """The setting of the day and, if wanted and a place is known, of the year ahead."""
    from weedkey.plan.situation import setting_for, settings_ahead

    lawn = lawn_from_words(args, knowledge)
    region = region_from_words(args)
    first = setting_for(knowledge, lawn, barriers=barriers)
    later = settings_ahead(knowledge, lawn, None, lawn.on, barriers=barriers) if ahead else ()
    if region and lawn.place is None:
        return replace(first, region=region), tuple(replace(s, region=region) for s in later)
    return first, later
