"""The second reading: ten published facts of each entry of a weed, each with a verdict."""

from __future__ import annotations

import csv
from collections import Counter
from pathlib import Path

from weedkey.knowledge import load

SHEET = Path(__file__).resolve().parents[2] / "docs" / "second_reading.tsv"
ROWS = list(csv.DictReader(SHEET.open(encoding="utf-8", newline=""), delimiter="\t"))
VERDICTS = {"right", "loose", "wrong", "not_seen"}


def test_every_weed_is_on_the_sheet() -> None:
    """Ten facts an entry, for every entry that is shipped."""
    counts = Counter(row["weed"] for row in ROWS)
    assert sorted(name for name in load().weeds if counts[name] < 10) == []


def test_every_fact_has_a_verdict() -> None:
    """No row was left empty, and nothing else stands there than the verdicts."""
    assert {row["verdict"] for row in ROWS} <= VERDICTS


def test_a_wrong_fact_says_what_was_done() -> None:
    """Finding an error is half of the work."""
    assert [row["fact"] for row in ROWS if row["verdict"] == "wrong" and not row["done"].strip()] == []
