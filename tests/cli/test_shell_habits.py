"""Shell habits: help in the same sections everywhere, completion that a shell really runs, demo lawns, exit codes."""

from __future__ import annotations

import shutil
import subprocess

import pytest
from command_cases import Run

from weedkey.cli.main import COMMANDS
from weedkey.config import KEYS


@pytest.mark.parametrize("command", COMMANDS)
def test_the_help_of_every_command_has_the_same_sections_in_the_same_order(run: Run, command: str) -> None:
    """Usage, what it does, options, examples that begin with the program, exit codes."""
    text = run(command, "--help").out
    places = [text.find(title) for title in ("usage: weedkey ", "\noptions:\n", "\nexamples:\n", "\nexit codes:\n")]
    assert -1 not in places, command
    assert places == sorted(places)
    examples = text.split("\nexamples:\n")[1].split("\n\n")[0].splitlines()
    assert all(line.startswith(("  weedkey", "   ")) for line in examples)
    assert f"weedkey {command}" in "".join(examples)
    codes = text.split("\nexit codes:\n")[1]
    assert codes.startswith("  0 ")


@pytest.mark.parametrize("command", COMMANDS)
def test_help_and_the_option_say_the_same(run: Run, command: str) -> None:
    """``weedkey help plan`` is ``weedkey plan --help``."""
    assert run("help", command).out == run(command, "--help").out


def test_help_alone_names_files_and_surroundings(run: Run) -> None:
    """Where the settings, the walks and the own entries lie; which variables are honoured."""
    text = run("help").out
    for said in ("NO_COLOR", "WEEDKEY_HOME", "config.toml", "walks", "entries", *COMMANDS):
        assert said in text, said


def test_an_unknown_command_is_met_with_the_nearest(run: Run) -> None:
    """As for every name."""
    done = run("help", "wlaks")
    assert done.code == 2
    assert "Did you mean walks" in done.err


BASH = shutil.which("bash")


def completed(script: str, *words: str) -> list[str]:
    """What bash offers for the last of the words."""
    quoted = " ".join(f"'{word}'" for word in words)
    line = (
        f"{script}\nCOMP_WORDS=({quoted}); COMP_CWORD={len(words) - 1}; _weedkey; printf '%s\\n' \"${{COMPREPLY[@]}}\""
    )
    done = subprocess.run([str(BASH), "-c", line], capture_output=True, text=True, check=True, timeout=20)
    return [word for word in done.stdout.splitlines() if word]


@pytest.mark.skipif(BASH is None, reason="needs bash")
def test_bash_completes_commands_options_and_names(run: Run) -> None:
    """Run in the shell itself: commands, the options of one, settings, demo lawns, commands behind help."""
    script = run("completion", "bash").out
    assert completed(script, "weedkey", "wa") == ["walks"]
    assert "--search" in completed(script, "weedkey", "walks", "--s")
    assert completed(script, "weedkey", "config", "th") == ["theme"]
    assert set(completed(script, "weedkey", "config", "")) == {key.name for key in KEYS}
    assert completed(script, "weedkey", "demo", "tenn") == ["tennessee_zoysiagrass"]
    assert completed(script, "weedkey", "help", "pl") == ["plan"]


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_every_command_and_option_is_completed(run: Run, shell: str) -> None:
    """Made from the parser, so that a new command cannot be forgotten."""
    text = run("completion", shell).out
    for word in (*COMMANDS, "keep-weeds", "explain", "no-mouse" if shell != "fish" else "search"):
        assert word in text, word


def test_the_demo_lawns_are_listed_where_no_screen_can_open(run: Run) -> None:
    """Without a terminal the list; with --list the same everywhere."""
    assert run("demo").out == run("demo", "--list").out
    assert "demo:gulf_centipedegrass" in run("demo").out
