"""Where the user's own files lie, and how they are written so that nothing is lost.

Every function raises the plain ``OSError`` of the system; the caller knows what the file meant to the user.
"""

from __future__ import annotations

import contextlib
import os
import tempfile
from pathlib import Path

#: Overrides both user folders; for a portable copy on a stick, and for tests.
HOME_VARIABLE = "WEEDKEY_HOME"
_APP = "weedkey"
#: The file of a visit that holds its lawn.
LAWN_FILE = "lawn.yaml"
#: A visit that holds this file is out of the list, and nothing else.
ARCHIVED_FILE = "archived.txt"


def data_folder() -> Path:
    """The folder of what the user made and keeps: own entries, lawns, records. It need not exist yet."""
    home = os.environ.get(HOME_VARIABLE)
    if home:
        return Path(home) / "data"
    from platformdirs import user_data_path

    return user_data_path(_APP, appauthor=False)


def state_folder() -> Path:
    """The folder of what the program remembers for the user: walks in progress. It need not exist yet."""
    home = os.environ.get(HOME_VARIABLE)
    if home:
        return Path(home) / "state"
    from platformdirs import user_state_path

    return user_state_path(_APP, appauthor=False)


def config_folder() -> Path:
    """The folder of the user's settings. It need not exist yet."""
    home = os.environ.get(HOME_VARIABLE)
    if home:
        return Path(home) / "config"
    from platformdirs import user_config_path

    return user_config_path(_APP, appauthor=False)


def cache_folder() -> Path:
    """The folder of what can be worked out again at any time. It need not exist yet."""
    home = os.environ.get(HOME_VARIABLE)
    if home:
        return Path(home) / "cache"
    from platformdirs import user_cache_path

    return user_cache_path(_APP, appauthor=False)


def local_entries_folder() -> Path:
    """The folder of the user's own entries (``weeds/``, ``controls/``, ``places/`` … below it)."""
    return data_folder() / "entries"


def walks_folder() -> Path:
    """The folder of the walks in progress."""
    return state_folder() / "walks"


def list_visits(folder: Path | None = None, *, archived: bool | None = False) -> list[Path]:
    """Folders of visits (each holds a lawn file), the one changed last first.

    ``archived``: False those in the list, True those that were taken out of it, None all.
    """
    place = folder or walks_folder()
    found = [path.parent for path in place.glob(f"[!.]*/{LAWN_FILE}")] if place.is_dir() else []
    if archived is not None:
        found = [path for path in found if is_archived(path) is archived]
    return sorted(found, key=lambda path: (-_changed_ns(path), path.name))


def is_archived(folder: Path) -> bool:
    """True for a visit that was taken out of the list."""
    return (folder / ARCHIVED_FILE).is_file()


def _changed_ns(folder: Path) -> int:
    return max(path.stat().st_mtime_ns for path in folder.iterdir())


def write_atomic(path: Path, text: str) -> None:
    """Write a text file so that a reader sees the old or the new text, never half of it, even after a power cut."""
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.", suffix=".tmp")
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        _keep_mode(path, name)
        os.replace(name, path)  # noqa: PTH105 - one system call, by design
    except BaseException:
        with contextlib.suppress(OSError):
            Path(name).unlink()
        raise
    _sync_folder(path.parent)


def append_line(path: Path, line: str) -> None:
    """Add one line to a journal and wait until it is on disk. ``line`` holds no line break."""
    if "\n" in line or "\r" in line:
        raise ValueError("a journal line holds no line break")
    path.parent.mkdir(parents=True, exist_ok=True)
    is_new = not path.exists()
    with path.open("ab") as file:
        file.write(_missing_break(path, file.tell()) + line.encode("utf-8") + b"\n")
        file.flush()
        os.fsync(file.fileno())
    if is_new:
        _sync_folder(path.parent)


def read_lines(path: Path) -> list[str]:
    """The complete lines of a journal; a last line that was cut off while writing is left out."""
    *whole, _ = path.read_bytes().split(b"\n")
    return [line.decode("utf-8", errors="replace") for line in whole]


def _missing_break(path: Path, size: int) -> bytes:
    """A line break if the last write was cut off, so that the next line does not melt into the torn one."""
    if size == 0:
        return b""
    with path.open("rb") as file:
        file.seek(size - 1)
        return b"" if file.read(1) == b"\n" else b"\n"


def _keep_mode(path: Path, temporary: str) -> None:
    """Give the new file the permissions of the old one, or those of an ordinary new file."""
    try:
        mode = path.stat().st_mode & 0o777
    except OSError:
        mask = os.umask(0)
        os.umask(mask)
        mode = 0o666 & ~mask
    with contextlib.suppress(OSError):
        os.chmod(temporary, mode)  # noqa: PTH101 - beside os.replace


def _sync_folder(folder: Path) -> None:
    """Make the name of a new file durable; some systems do not allow this, then the file itself is still safe."""
    with contextlib.suppress(OSError, AttributeError):
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
