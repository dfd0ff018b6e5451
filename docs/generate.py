"""Write the pages that are made from the program: ``python docs/generate.py`` (``--check`` only compares).

Pages: docs/cli.md from the parser, docs/coverage.md from the knowledge.
"""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path

os.environ["COLUMNS"] = "100"

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent))


def command_reference() -> str:
    """All commands with their own help texts."""
    from weedkey.cli.main import build_parser

    parser = build_parser(every=True)
    parts = ["# Command reference", "", "Made from the program itself by `python docs/generate.py`.", ""]
    parts += ["```text", parser.format_help().rstrip(), "```", ""]
    commands = next(a for a in parser._actions if isinstance(a, argparse._SubParsersAction))
    for name, sub in commands.choices.items():
        parts += [f"## weedkey {name}", "", "```text", sub.format_help().rstrip(), "```", ""]
    return "\n".join(parts)


def coverage_page() -> str:
    """How much is known, and how much of it is published."""
    from weedkey.knowledge.coverage import coverage
    from weedkey.knowledge.loading import read_folder
    from weedkey.report.coverage_text import coverage_text
    from weedkey.report.style import Style

    knowledge = read_folder(HERE.parent / "knowledge")
    text = coverage_text(knowledge, coverage(knowledge), Style(width=100))
    return "# What the knowledge covers\n\nMade by `python docs/generate.py`.\n\n```text\n" + text + "\n```\n"


PAGES = {"cli.md": command_reference, "coverage.md": coverage_page}


def main() -> int:
    """Write or compare every page; 1 if one is stale."""
    check = "--check" in sys.argv[1:]
    stale = 0
    for name, make in PAGES.items():
        page = HERE / name
        text = make()
        if check and (not page.is_file() or page.read_text(encoding="utf-8") != text):
            print(f"docs/{name} is stale; run python docs/generate.py", file=sys.stderr)
            stale = 1
        elif not check:
            page.write_text(text, encoding="utf-8")
    return stale


if __name__ == "__main__":
    sys.exit(main())
