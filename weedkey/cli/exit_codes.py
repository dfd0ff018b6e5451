"""What a shell script may rely on."""

from __future__ import annotations

from enum import IntEnum


class ExitCode(IntEnum):
    """Exit codes of every command."""

    OK = 0
    NONE = 1
    USAGE = 2
    UNREADABLE = 3
    INTERRUPTED = 130
