"""``python -m weedkey``."""

from weedkey.cli.main import run

run()
