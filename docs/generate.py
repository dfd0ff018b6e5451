"""Write the pages that are made from the program: ``python docs/generate.py`` (``--check`` only compares).

Pages: docs/cli.md from the parser, docs/coverage.md from the knowledge, docs/drawings.md and the pictures in
docs/drawings/ from knowledge/drawings.
"""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

os.environ["COLUMNS"] = "100"

if TYPE_CHECKING:
    from weedkey.model.drawing import TraitDrawings

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


def second_reading_page() -> str:
    """How often a second reader found the facts of the weeds right, by kind, and every fact that was wrong."""
    import csv

    with (HERE / "second_reading.tsv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file, delimiter="\t"))
    kinds = sorted({row["kind"] for row in rows}, key=lambda kind: (-sum(row["kind"] == kind for row in rows), kind))
    parts = [
        "# The second reading of the weeds",
        "",
        "Made by `python docs/generate.py` from second_reading.tsv: ten published facts of each entry, drawn by",
        "`docs/draw_facts.py`, held against their sources by somebody who had not written them. What the verdicts mean",
        "and what follows from them stands in knowledge-quality.md.",
        "",
        "| kind of fact | read | right | loose | wrong | not seen | wrong among those seen |",
        "|---|---|---|---|---|---|---|",
    ]
    for kind in (*kinds, None):
        own = [row["verdict"] for row in rows if kind in (row["kind"], None)]
        counts = [own.count(verdict) for verdict in ("right", "loose", "wrong", "not_seen")]
        seen = len(own) - counts[3]
        share = f"{100 * counts[2] / seen:.1f} %" if seen else "-"
        name = kind.replace("_", " ") if kind else "**all**"
        parts.append(f"| {name} | {len(own)} | {' | '.join(map(str, counts))} | {share} |")
    parts += ["", "## What was wrong, and what was done", "", "| weed | fact as it stood | done |", "|---|---|---|"]
    for row in rows:
        if row["verdict"] == "wrong":
            cells = (row["weed"].replace("_", " "), f"{row['kind'].replace('_', ' ')}: {row['fact']}", row["done"])
            parts.append("| " + " | ".join(cell.replace("|", "/") for cell in cells) + " |")
    return "\n".join(parts) + "\n"


def drawings_page() -> str:
    """Every drawing with the words of its state, look by look."""
    from weedkey.knowledge.loading import read_folder

    traits = read_folder(HERE.parent / "knowledge").traits
    parts = [
        "# The drawings",
        "",
        "Made by `python docs/generate.py` from the paths in knowledge/drawings. Each was drawn for this project from",
        "general knowledge; it repeats the words and never stands for them. `weedkey traits --draw LOOK` shows them",
        "in a terminal.",
    ]
    for trait, drawings in all_drawings().items():
        words = {state.id: state.words for state in traits[trait].states}
        parts += ["", f"## {trait}", "", traits[trait].question, "", "| drawing | words | drawn |", "|---|---|---|"]
        for one in drawings.drawings:
            picture = f"![{one.shows}](drawings/{trait}/{one.state}.svg)"
            parts.append(f"| {picture} | {words[one.state]} (`{one.state}`) | {one.shows} |")
    return "\n".join(parts) + "\n"


def all_drawings() -> dict[str, TraitDrawings]:
    """The drawings by look, in the order in which the looks stand in traits.yaml."""
    from weedkey.knowledge.drawings import drawing_files, read_drawings
    from weedkey.knowledge.loading import read_folder

    root = HERE.parent / "knowledge"
    drawn = {file.stem: file for file in drawing_files(root)}
    return {trait: read_drawings(drawn[trait]) for trait in read_folder(root).traits if trait in drawn}


def pictures() -> dict[str, str]:
    """One picture a state, dark on white, so that it can be seen on a page of any colour."""
    from weedkey.report.drawing import drawing_svg

    paper = '<rect width="64" height="48" fill="#fff"/>'
    return {
        f"drawings/{trait}/{one.state}.svg": drawing_svg(one)
        .replace("</title>", f"</title>{paper}")
        .replace("currentColor", "#111")
        + "\n"
        for trait, drawings in all_drawings().items()
        for one in drawings.drawings
    }


PAGES = {
    "cli.md": command_reference,
    "coverage.md": coverage_page,
    "drawings.md": drawings_page,
    "second-reading.md": second_reading_page,
}


def main() -> int:
    """Write or compare every page; 1 if one is stale."""
    check = "--check" in sys.argv[1:]
    stale = 0
    texts = {name: make() for name, make in PAGES.items()} | pictures()
    for page in HERE.glob("drawings/*/*.svg"):
        if page.relative_to(HERE).as_posix() not in texts and not check:
            page.unlink()
    for name, text in texts.items():
        page = HERE / name
        if check and (not page.is_file() or page.read_text(encoding="utf-8") != text):
            print(f"docs/{name} is stale; run python docs/generate.py", file=sys.stderr)
            stale = 1
        elif not check:
            page.parent.mkdir(parents=True, exist_ok=True)
            page.write_text(text, encoding="utf-8")
    return stale


if __name__ == "__main__":
    sys.exit(main())
