"""A plain command must not pay for the screens, the schema library or number crunching."""

from __future__ import annotations

import subprocess
import sys

import pytest

HEAVY = ("textual", "rich", "jsonschema", "ruamel", "jinja2", "icalendar", "rapidfuzz", "numpy", "scipy", "sklearn")

PROBE = """
import sys
from weedkey.cli.main import main
try:
    code = main({words!r})
except SystemExit as leaving:
    code = leaving.code
print("LOADED", sorted(name for name in {heavy!r} if name in sys.modules), file=sys.stderr)
"""


def loaded_by(words: list[str]) -> str:
    """Run a command in a fresh interpreter and return the line that lists the heavy modules it loaded."""
    code = PROBE.format(words=words, heavy=HEAVY)
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False, timeout=120)
    lines = [line for line in done.stderr.splitlines() if line.startswith("LOADED")]
    assert lines, done.stderr
    return lines[-1]


@pytest.mark.parametrize(
    "words",
    [
        ["--help"],
        ["name", "--turf", "zoysiagrass", "--month", "6", "--look", "plant_group=sedge", "--json"],
        ["weed", "goosegrass"],
        ["choices", "goosegrass", "--turf", "bermudagrass", "--month", "6"],
        ["turf", "centipedegrass", "--month", "5"],
        ["ground", "demo:tennessee_zoysiagrass"],
        ["traits", "--for", "sedge"],
    ],
    ids=lambda words: words[0],
)
def test_plain_commands_load_nothing_heavy(words: list[str]) -> None:
    """Textual, jsonschema, ruamel, jinja2, icalendar and the fuzzy search stay unloaded."""
    assert loaded_by(words) == "LOADED []"


def test_help_does_not_even_open_the_knowledge() -> None:
    """``weedkey --help`` imports no command module."""
    code = "import sys\nfrom weedkey.cli.main import main\ntry:\n    main(['--help'])\nexcept SystemExit:\n    pass\n"
    code += "print(sorted(m for m in sys.modules if m.startswith('weedkey.') and m.count('.') > 1), file=sys.stderr)\n"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60)
    loaded = done.stderr.strip().splitlines()[-1]
    assert loaded == "['weedkey.cli.exit_codes', 'weedkey.cli.main']"
