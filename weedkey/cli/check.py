"""``weedkey check [PATH]``."""

from __future__ import annotations

import argparse
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from weedkey.cli.arguments import add_output, add_setting
from weedkey.cli.exit_codes import ExitCode
from weedkey.cli.opening import local_folder, open_knowledge, print_json, style_for
from weedkey.errors import Issue, UsageError

if TYPE_CHECKING:
    from weedkey.model.region import Region


def configure(parser: argparse.ArgumentParser) -> None:
    """Arguments of ``weedkey check``."""
    parser.add_argument("path", nargs="?", metavar="PATH", help="a file, a folder of entries or a lawn (default: all)")
    parser.add_argument("--coverage", action="store_true", help="how much is known, and how much of it is published")
    parser.add_argument("--warnings", action="store_true", help="list warnings and notes too")
    add_setting(parser, turf="optional")
    parser.epilog = (
        "With --turf every pair of weeds that are treated differently there must be told apart, not only look-alikes.\n"
        "examples:\n  weedkey check my-lawn.yaml\n  weedkey check --coverage\n"
        "  weedkey check --turf zoysiagrass --month june --warnings"
    )
    add_output(parser)


def execute(args: argparse.Namespace) -> int:
    """List every problem with file, line and what to write; exit 1 if there is an error."""
    if args.coverage:
        return _coverage(args)
    issues = find_issues(args)
    errors = [issue for issue in issues if issue.severity == "error"]
    shown = issues if args.warnings else errors
    if args.json:
        from weedkey.report.entries_json import issue_json

        print_json({"issues": [issue_json(issue) for issue in shown], "errors": len(errors), "all": len(issues)})
    else:
        for issue in shown:
            print(f"{issue.severity}: {issue}")
        others = len(issues) - len(errors)
        print(
            f"{len(errors)} errors, {others} warnings and notes" + ("" if args.warnings else " (--warnings lists them)")
        )
    return ExitCode.NONE if errors else ExitCode.OK


def find_issues(args: argparse.Namespace) -> list[Issue]:
    """Every problem of the path, or of the shipped knowledge and the user's own entries."""
    from weedkey.knowledge.checks import check_all, check_file
    from weedkey.knowledge.locate import shipped_folder

    if args.path is None:
        return list(check_all(shipped_folder(), local_folder(args), _regions(args)))
    path = Path(args.path)
    if path.is_dir():
        return list(check_all(path, None))
    if not path.is_file():
        raise UsageError(f"{args.path}: no such file or folder", "a file or folder of entries, or a lawn file")
    return list(check_file(path, open_knowledge(args)))


def _regions(args: argparse.Namespace) -> Mapping[str, Region] | None:
    """The treatments on the turf of the command line; without one, None."""
    if not args.turf:
        return None
    from weedkey.cli.setting import settings_from_words
    from weedkey.control import decision_regions

    knowledge = open_knowledge(args)
    setting, ahead = settings_from_words(args, knowledge, barriers=False)
    return decision_regions(knowledge, setting, ahead)


def _coverage(args: argparse.Namespace) -> int:
    from weedkey.knowledge.coverage import coverage

    knowledge = open_knowledge(args)
    found = coverage(knowledge)
    if args.json:
        from weedkey.report.entry_json import plain_value

        print_json(plain_value(found))
        return ExitCode.OK
    from weedkey.report.coverage_text import coverage_text

    print(coverage_text(knowledge, found, style_for(args)))
    return ExitCode.OK
