"""A walk: every answer is on disk before the next question; undo is exact; damaged journals lose nothing else."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from weedkey.errors import WalkError
from weedkey.key import Context, build_table, judge
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Look
from weedkey.model.trait import State, Trait
from weedkey.model.weed import LifeCycle, Seen, Weed
from weedkey.walk import Walk, list_walks, new_walk_path, resume_walk, start_walk

MEMORY = ("from_memory",)
CONTEXT = Context(9, "southeast", "zoysiagrass", mown=False, conditions=("shade",))
LOOKS = (
    Look("ligule", ("membrane",)),
    Look("colour"),
    Look("flower", ("white", "pink"), both=True),
    Look("habit", ("clump",), unsure=True),
)


def knowledge():
    """Two weeds and one look."""
    trait = Trait(
        "ligule", "?", "leaf", ("grassy",), (State("membrane", "m"), State("hairs", "h")), "eyes", 5.0, 0.05, MEMORY
    )
    weeds = [
        Weed(n, n, n, "f", "grassy", "warm", (LifeCycle("perennial", MEMORY),), {"ligule": (Seen(s, MEMORY),)})
        for n, s in (("crab", "membrane"), ("goose", "hairs"))
    ]
    return Knowledge({w.id: w for w in weeds}, {trait.id: trait}, {}, {}, {}, {}, {})


def test_a_walk_comes_back_as_it_was(tmp_path):
    """Context, looks with all their marks, undone answers and notes survive a restart."""
    path = tmp_path / "walks" / "a.jsonl"
    walk = start_walk(CONTEXT, path)
    for look in LOOKS:
        walk.answer(look)
    walk.undo(2)
    walk.note("corner by the gate, zäh")
    again = resume_walk(path)
    assert again.context == CONTEXT
    assert again.answers == walk.answers
    assert again.looks == (LOOKS[0], LOOKS[2], LOOKS[3])
    assert again.notes == ["corner by the gate, zäh"]
    assert again.problems == []


def test_each_answer_is_on_disk_before_the_next(tmp_path):
    """After every answer the file already holds it."""
    walk = start_walk(CONTEXT, tmp_path / "a.jsonl")
    for count, look in enumerate(LOOKS, 1):
        walk.answer(look)
        assert len(resume_walk(walk.path).answers) == count


def test_a_killed_process_loses_no_answer(tmp_path):
    """A process that is killed right after an answer has saved it."""
    path = tmp_path / "a.jsonl"
    script = (
        "import os, sys\nfrom pathlib import Path\nfrom weedkey.walk import start_walk\n"
        "from weedkey.key import Context\nfrom weedkey.model.lawn import Look\n"
        "walk = start_walk(Context(6), Path(sys.argv[1]))\n"
        "walk.answer(Look('ligule', ('membrane',)))\nos.kill(os.getpid(), 9)\n"
    )
    root = str(Path(__file__).parents[2])
    done = subprocess.run(
        [sys.executable, "-c", script, str(path)], env={**os.environ, "PYTHONPATH": root}, check=False
    )
    assert done.returncode != 0
    assert resume_walk(path).looks == (LOOKS[0],)


def test_a_torn_last_line_is_left_out(tmp_path):
    """A power cut in the middle of a line costs that line only, and the walk goes on cleanly."""
    path = tmp_path / "a.jsonl"
    walk = start_walk(CONTEXT, path)
    walk.answer(LOOKS[0])
    with path.open("ab") as file:
        file.write(b'{"event": "look", "tra')
    again = resume_walk(path)
    assert again.looks == (LOOKS[0],)
    again.answer(LOOKS[1])
    third = resume_walk(path)
    assert third.looks == LOOKS[:2]
    assert len(third.problems) == 1
    assert ":3:" in third.problems[0]


@pytest.mark.parametrize(
    "line",
    [
        "not json",
        "[1, 2]",
        '{"event": "look"}',
        '{"event": "look", "trait": 5, "states": []}',
        '{"event": "undo", "number": 99}',
        '{"event": "undo"}',
        '{"event": "context", "month": 77}',
        '{"event": "context", "region": "atlantis"}',
        '{"event": "dance"}',
        '{"event": null}',
    ],
)
def test_a_damaged_line_is_named_and_skipped(tmp_path, line):
    """A line that cannot be read is named with its number; everything else comes back; the line stays in the file."""
    path = tmp_path / "a.jsonl"
    walk = start_walk(CONTEXT, path)
    walk.answer(LOOKS[0])
    with path.open("a", encoding="utf-8") as file:
        file.write(line + "\n")
    resume_walk(path).answer(LOOKS[1])
    again = resume_walk(path)
    assert again.looks == LOOKS[:2]
    assert again.context == CONTEXT
    assert len(again.problems) == 1
    assert again.problems[0].startswith(f"{path}:3:")
    assert line in path.read_text(encoding="utf-8")


def test_undo_and_redo():
    """Undo takes the last answer that counts, redo brings back the last taken away; nothing left gives None."""
    walk = Walk()
    for look in LOOKS:
        walk.answer(look)
    assert walk.undo().look == LOOKS[3]
    assert walk.undo(1).look == LOOKS[0]
    assert walk.undo(1) is None
    assert walk.undo(99) is None
    assert walk.looks == LOOKS[1:3]
    assert walk.redo(1).look == LOOKS[0]
    assert walk.redo().look == LOOKS[3]
    assert walk.redo() is None
    assert walk.looks == LOOKS


@given(moves=st.lists(st.sampled_from(["answer", "undo", "redo", "first"]), max_size=25))
def test_the_journal_and_memory_agree_after_any_moves(tmp_path_factory, moves):
    """Whatever is answered, undone and redone, the file brings back the same walk."""
    path = tmp_path_factory.mktemp("walks") / "a.jsonl"
    walk = start_walk(CONTEXT, path)
    for turn, move in enumerate(moves):
        if move == "answer":
            walk.answer(LOOKS[turn % len(LOOKS)])
        else:
            {"undo": walk.undo, "redo": walk.redo, "first": lambda: walk.undo(1)}[move]()
    assert resume_walk(path).answers == walk.answers


def test_undo_gives_the_same_standing():
    """After an undo the key stands exactly where it stood."""
    table = build_table(knowledge(), Context(6, flat=True))
    walk = Walk()
    before = walk.judge(table)
    walk.answer(Look("ligule", ("hairs",)))
    assert walk.judge(table) != before
    walk.undo()
    assert walk.judge(table) == before == judge(table, [])


def test_answers_to_removed_traits_stay_in_the_walk(tmp_path):
    """A trait that has been removed since: the answer is kept, the key marks it and goes on."""
    path = tmp_path / "a.jsonl"
    walk = start_walk(Context(6, flat=True), path)
    walk.answer(Look("long_gone", ("x",)))
    walk.answer(Look("ligule", ("hairs",)))
    again = resume_walk(path)
    standing = again.judge(build_table(knowledge(), again.context))
    assert len(again.looks) == 2
    assert [entry.reason for entry in standing.ignored] == ["unknown_trait"]
    assert standing.candidates[0][0] == "goose"


def test_a_change_of_context_keeps_the_looks(tmp_path):
    """Another month or turf for the same answers."""
    path = tmp_path / "a.jsonl"
    walk = start_walk(CONTEXT, path)
    walk.answer(LOOKS[0])
    walk.change_context(Context(4, "transition", "tall_fescue"))
    again = resume_walk(path)
    assert again.context == Context(4, "transition", "tall_fescue")
    assert again.looks == LOOKS[:1]


def test_what_cannot_be_written_does_not_count(tmp_path):
    """If the disk refuses, the answer is not counted and the error says where."""
    path = tmp_path / "a.jsonl"
    walk = start_walk(CONTEXT, path)
    walk.path = tmp_path / "a.jsonl" / "below"
    with pytest.raises(WalkError, match="could not be written"):
        walk.answer(LOOKS[0])
    assert walk.looks == ()


def test_what_cannot_be_read_or_exists_already(tmp_path):
    """A missing file and a name that is taken are errors of the walk, not of Python."""
    with pytest.raises(WalkError, match="cannot be read"):
        resume_walk(tmp_path / "none.jsonl")
    start_walk(CONTEXT, tmp_path / "a.jsonl")
    with pytest.raises(WalkError, match="exists already"):
        start_walk(CONTEXT, tmp_path / "a.jsonl")


def test_names_and_lists_of_walks(tmp_path):
    """Walks get free names from the lawn's name and are listed newest first."""
    assert list_walks(tmp_path / "nothing") == []
    first = new_walk_path("Lawn No. 3 / back", tmp_path)
    start_walk(CONTEXT, first)
    second = new_walk_path("Lawn No. 3 / back", tmp_path)
    start_walk(CONTEXT, second)
    os.utime(first, ns=(1, 1))
    assert first != second
    assert list_walks(tmp_path) == [second, first]


def test_the_journal_is_plain_json(tmp_path):
    """One JSON object a line, readable by any tool."""
    path = tmp_path / "a.jsonl"
    walk = start_walk(CONTEXT, path)
    walk.answer(LOOKS[2])
    events = [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]
    assert [event["event"] for event in events] == ["start", "look"]
    assert events[1]["both"] is True
