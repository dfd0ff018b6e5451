"""``weedkey printed-key --turf T --month M``."""

from __future__ import annotations

import argparse
from pathlib import Path

from weedkey.cli.arguments import add_output, add_setting
from weedkey.cli.exit_codes import ExitCode
from weedkey.cli.opening import open_knowledge, print_json
from weedkey.cli.setting import settings_from_words
from weedkey.control import decision_regions
from weedkey.key import Context, printed_key


def configure(parser: argparse.ArgumentParser) -> None:
    """Arguments of ``weedkey printed-key``."""
    add_setting(parser, turf="required")
    parser.add_argument("--unmown", action="store_true", help="the plants stood uncut")
    parser.add_argument("--html", metavar="FILE", help="write it as a page to print")
    parser.epilog = "example: weedkey printed-key --turf zoysiagrass --month june --html key.html"
    add_output(parser)


def execute(args: argparse.Namespace) -> int:
    """Print the numbered key, or write it as a page."""
    knowledge = open_knowledge(args)
    setting, ahead = settings_from_words(args, knowledge)
    context = Context(setting.on.month, setting.region, setting.turf, not args.unmown)
    key = printed_key(knowledge, context, decision_regions(knowledge, setting, ahead))
    if args.html:
        from weedkey.report.printed_key_text import write_html
        from weedkey.storage import write_atomic

        write_atomic(Path(args.html), write_html(knowledge, key))
        print(f"written: {args.html}")
    elif args.json:
        from weedkey.report.entry_json import plain_value

        print_json(plain_value(key))
    else:
        from weedkey.report.printed_key_text import write_markdown

        print(write_markdown(knowledge, key))
    return ExitCode.OK
