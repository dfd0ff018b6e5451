"""``python -m weedkey.knowledge.checks [PATH …]``: check a folder of knowledge, or single files of it.

Prints every problem, then a count. Exit code 1 if there is an error, else 0. ``--no-warnings`` shows errors only.
"""

from __future__ import annotations

import sys
from pathlib import Path

from weedkey.errors import Issue
from weedkey.knowledge import locate
from weedkey.knowledge.checks.run import check_all, check_file
from weedkey.knowledge.loading import build_folder, knowledge_of


def main(arguments: list[str]) -> int:
    """Check what the arguments name; the shipped knowledge without arguments."""
    quiet = "--no-warnings" in arguments
    paths = [Path(argument) for argument in arguments if not argument.startswith("--")]
    issues: list[Issue] = []
    files = [path for path in paths if path.is_file()]
    for folder in [path for path in paths if path.is_dir()] or ([] if files else [locate.shipped_folder()]):
        issues += check_all(folder)
    if files:
        knowledge = knowledge_of(build_folder(locate.shipped_folder())[0])
        for file in files:
            issues += check_file(file, knowledge)
    shown = [issue for issue in issues if issue.severity == "error" or not quiet]
    for issue in shown:
        prefix = "" if issue.severity == "error" else f"{issue.severity}: "
        sys.stdout.write(f"{prefix}{issue}\n")
    errors = sum(issue.severity == "error" for issue in issues)
    sys.stdout.write(f"{errors} errors, {len(issues) - errors} warnings and notes.\n")
    return 1 if errors else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
