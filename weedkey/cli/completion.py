"""``weedkey completion SHELL``: a completion script, made from the parser itself."""

from __future__ import annotations

import argparse

from weedkey.cli.arguments import read_word
from weedkey.cli.exit_codes import ExitCode

SHELLS = ("bash", "zsh", "fish")


def configure(parser: argparse.ArgumentParser) -> None:
    """Arguments of ``weedkey completion``."""
    parser.add_argument("shell", metavar="SHELL", help="bash, zsh or fish")
    parser.epilog = "example: weedkey completion bash > ~/.local/share/bash-completion/completions/weedkey"


def execute(args: argparse.Namespace) -> int:
    """Print the script."""
    shell = read_word(args.shell, SHELLS, "shell")
    print({"bash": _bash, "zsh": _zsh, "fish": _fish}[shell](options_by_command()), end="")
    return ExitCode.OK


def options_by_command() -> dict[str, list[str]]:
    """Every command with its long options, read from the parser."""
    from weedkey.cli.main import build_parser

    parser = build_parser(every=True)
    commands = next(a for a in parser._actions if isinstance(a, argparse._SubParsersAction))  # noqa: SLF001
    return {
        name: sorted(
            option
            for action in sub._actions  # noqa: SLF001
            for option in action.option_strings
            if option.startswith("--")
        )
        for name, sub in commands.choices.items()
    }


def first_words() -> dict[str, list[str]]:
    """What may stand first behind a command, where that is a closed list."""
    from weedkey.cli.main import COMMANDS
    from weedkey.cli.opening import demo_folder
    from weedkey.config import KEYS

    return {
        "help": list(COMMANDS),
        "config": [key.name for key in KEYS],
        "demo": sorted(file.stem for file in demo_folder().glob("*.yaml")),
        "completion": list(SHELLS),
    }


def _bash(options: dict[str, list[str]]) -> str:
    first = first_words()
    cases = "\n".join(
        f'    {name}) words="{" ".join(words)}"; first="{" ".join(first.get(name, []))}" ;;'
        for name, words in options.items()
    )
    return f"""# weedkey completion for bash
_weedkey() {{
  local current="${{COMP_WORDS[COMP_CWORD]}}" words first=""
  case "${{COMP_WORDS[1]}}" in
{cases}
    *) words="{" ".join(options)} --help --version --plain --local --no-mouse --theme" ;;
  esac
  if [[ $COMP_CWORD -eq 1 ]]; then
    COMPREPLY=($(compgen -W "{" ".join(options)} --help --version --plain --local --no-mouse --theme" -- "$current"))
  elif [[ $current == -* ]]; then
    COMPREPLY=($(compgen -W "$words" -- "$current"))
  elif [[ $COMP_CWORD -eq 2 && -n $first ]]; then
    COMPREPLY=($(compgen -W "$first" -- "$current"))
  else
    COMPREPLY=($(compgen -f -- "$current"))
  fi
}}
complete -F _weedkey weedkey
"""


def _zsh(options: dict[str, list[str]]) -> str:
    return "#compdef weedkey\nautoload -U +X bashcompinit && bashcompinit\n" + _bash(options)


def _fish(options: dict[str, list[str]]) -> str:
    from weedkey.cli.main import COMMANDS

    first = first_words()
    lines = ["# weedkey completion for fish"]
    for name, (_, summary) in COMMANDS.items():
        text = summary.replace("'", "")
        lines.append(f"complete -c weedkey -n __fish_use_subcommand -a {name} -d '{text}'")
        if name in first:
            words = " ".join(first[name])
            lines.append(f"complete -c weedkey -f -n '__fish_seen_subcommand_from {name}' -a '{words}'")
        lines += [
            f"complete -c weedkey -n '__fish_seen_subcommand_from {name}' -l {option.removeprefix('--')}"
            for option in options[name]
        ]
    return "\n".join(lines) + "\n"
