"""The documents that are made from the program are fresh, and the hand-written ones speak of what exists."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

from weedkey.cli.main import COMMANDS

ROOT = Path(__file__).resolve().parents[2]
PAGES = [*sorted(ROOT.glob("docs/*.md")), ROOT / "README.md", ROOT / "DEVELOPERS.md"]


def test_generated_pages_are_fresh() -> None:
    """docs/cli.md and docs/coverage.md equal what the program says now."""
    done = subprocess.run(
        [sys.executable, str(ROOT / "docs" / "generate.py"), "--check"],
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    assert done.returncode == 0, done.stderr


@pytest.mark.parametrize("page", PAGES, ids=lambda path: path.name)
def test_links_inside_the_project_resolve(page: Path) -> None:
    """Every relative link leads to a file."""
    links = re.findall(r"\]\(([^)#\s]+)\)", page.read_text(encoding="utf-8"))
    missing = [link for link in links if "://" not in link and not (page.parent / link).exists()]
    assert missing == []


@pytest.mark.parametrize("page", PAGES, ids=lambda path: path.name)
def test_commands_named_in_the_documents_exist(page: Path) -> None:
    """`weedkey WORD` in a document is a command."""
    named = set(
        re.findall(r"weedkey ([a-z][a-z-]+)", " ".join(re.findall(r"`[^`]+`", page.read_text(encoding="utf-8"))))
    )
    assert sorted(named - set(COMMANDS)) == []


def test_the_readme_opens_with_the_job_and_two_commands() -> None:
    """One paragraph, one command to try it, one to test it."""
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    assert text.startswith("# weedkey\n\nYou walk a neglected lawn")
    assert len(re.findall(r"^python3 -m venv", text, flags=re.MULTILINE)) == 2


def test_nothing_of_one_machine_stands_in_the_project() -> None:
    """No absolute paths of a machine, no hosts of a package registry."""
    files = subprocess.run(["git", "ls-files"], capture_output=True, text=True, check=False, cwd=ROOT).stdout.split()
    if not files:
        pytest.skip("not a git checkout")
    hosts = "|".join(("py" + r"pi\.org", "registry" + r"\.npm", r"deb\." + "debian"))
    machine = re.compile(r"(^|[\s\"'(])/(home|root|work|tmp)/|" + hosts)
    found = []
    for name in files:
        path = ROOT / name
        if path.suffix in {".py", ".md", ".yaml", ".json", ".toml"} and path.is_file():
            for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
                if machine.search(line) and path.name != "test_docs.py":
                    found.append(f"{name}:{number}")
    assert found == []
