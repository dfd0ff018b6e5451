"""Walks as one zip of plain files, and back: looked through first, nothing outside the folder of walks is touched.

A zip may come from anybody. Only files that a walk holds are taken, by their exact names; a path that climbs, a link,
a file too large or a lawn that cannot be read is refused and named. A walk that is here already is never overwritten.
"""

from __future__ import annotations

import re
import shutil
import stat
import tempfile
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from zipfile import ZIP_DEFLATED, BadZipFile, ZipFile, ZipInfo

from weedkey.errors import LawnError, UsageError, WalkError
from weedkey.knowledge.lawn_file import parse_lawn, read_lawn
from weedkey.knowledge.lawn_form import lawn_text
from weedkey.model.base import Knowledge
from weedkey.storage import ARCHIVED_FILE, LAWN_FILE, walks_folder
from weedkey.visit import ZONE_FILE
from weedkey.walks.history import RECORDS
from weedkey.walks.photos import photos_of, with_photos

README = "README.txt"
PHOTOS = "photos"
#: A lawn, a journal or a record is a few kB; a photo some MB. Beyond this it is no walk.
MOST_TEXT_BYTES, MOST_PHOTO_BYTES, MOST_FILES = 4 << 20, 64 << 20, 20_000
_NAME = r"[^/\\:*?\"<>|\x00-\x1f]{1,120}"
_TEXTS = re.compile(rf"^(?:{LAWN_FILE}|{ARCHIVED_FILE}|{ZONE_FILE}|naming-\d{{1,6}}\.jsonl|{RECORDS}/{_NAME}\.txt)$")
_PHOTO = re.compile(rf"^{PHOTOS}/{_NAME}\.(?:jpe?g|png|heic|webp|tiff?|gif)$", re.IGNORECASE)
_FOLDER = re.compile(rf"^{_NAME}$")
_READ_ME = """\
Walks saved by weedkey, as plain files. Every text is UTF-8; any editor opens it.

One folder for each walk, named by its day and its lawn:
  lawn.yaml         the lawn of that day: turf, place, zones, the weeds found, what was measured, what was put on
  naming-1.jsonl …  one plant being named: every answer, one a line, in the order given, with what was taken back
  zone.txt          the zone for which a plant was being named
  records/*.txt     the record of each application, to keep
  photos/*          photos, only if they were asked for; else lawn.yaml says where they lie
  archived.txt      the walk is kept out of the list

To read one:       weedkey plan FOLDER/lawn.yaml
To bring them in:  weedkey walks --import THIS.zip   (shows first what it would do)
"""


@dataclass(frozen=True, slots=True)
class Arriving:
    """One walk of a zip. ``becomes``: its folder here, empty if the very same walk is here; ``problem``: refused."""

    name: str
    becomes: str
    files: tuple[str, ...]
    problem: str = ""


@dataclass(frozen=True, slots=True)
class Preview:
    """What bringing a zip in would do. ``refused``: members that are no part of a walk, each with the reason."""

    walks: tuple[Arriving, ...]
    refused: tuple[tuple[str, str], ...]

    @property
    def wanted(self) -> tuple[Arriving, ...]:
        """Walks that would be written."""
        return tuple(walk for walk in self.walks if walk.becomes and not walk.problem)


def write_zip(target: Path, folders: Sequence[Path], knowledge: Knowledge, *, photos: bool = False) -> tuple[str, ...]:
    """Write walks as a zip; an existing file is never overwritten. Returns what could not be taken along, in words.

    Raises UsageError if the file exists, WalkError if it cannot be written.
    """
    if target.exists():
        raise UsageError(f"{target} exists already", "a file name that is free")
    left: list[str] = []
    part = target.with_name(target.name + ".part")
    try:
        with ZipFile(part, "w", ZIP_DEFLATED) as archive:
            archive.writestr(README, _READ_ME)
            for folder in folders:
                _add_walk(archive, folder, knowledge, left, photos=photos)
        part.replace(target)
    except OSError as error:
        part.unlink(missing_ok=True)
        raise WalkError(f"{target}: the zip could not be written ({error.strerror or error}).") from error
    return tuple(left)


def _add_walk(archive: ZipFile, folder: Path, knowledge: Knowledge, left: list[str], *, photos: bool) -> None:
    for file in sorted(path for path in folder.rglob("*") if path.is_file() and not path.is_symlink()):
        inside = file.relative_to(folder).as_posix()
        if inside == LAWN_FILE and photos:
            archive.writestr(f"{folder.name}/{inside}", _lawn_with_photos(archive, folder, knowledge, left))
        elif _TEXTS.match(inside):
            archive.write(file, f"{folder.name}/{inside}")


def _lawn_with_photos(archive: ZipFile, folder: Path, knowledge: Knowledge, left: list[str]) -> str:
    """The lawn file with its photos copied beside it; a photo that is not there keeps its path."""
    text = (folder / LAWN_FILE).read_text(encoding="utf-8")
    try:
        lawn = read_lawn(folder / LAWN_FILE, knowledge)
    except LawnError as error:
        left.append(f"{folder.name}: photos ({error.issues[0]})")
        return text
    inside: dict[str, str] = {}
    for photo in photos_of(lawn, folder):
        if photo.text in inside:
            continue
        name = f"{PHOTOS}/{len(inside) + 1:03}-{re.sub(r'[^A-Za-z0-9._-]+', '_', photo.path.name)[-80:]}"
        if not photo.is_there:
            left.append(f"{folder.name}: {photo.text} is not there")
        elif not _PHOTO.match(name):
            left.append(f"{folder.name}: {photo.text} is no photo by its ending")
        elif photo.path.stat().st_size > MOST_PHOTO_BYTES:
            left.append(f"{folder.name}: {photo.text} is larger than {MOST_PHOTO_BYTES >> 20} MB")
        else:
            archive.write(photo.path, f"{folder.name}/{name}")
            inside[photo.text] = name
    return lawn_text(with_photos(lawn, lambda one: inside.get(one, one))) if inside else text


def look_into_zip(source: Path, knowledge: Knowledge, folder: Path | None = None) -> Preview:
    """What is in a zip and what would become of it; nothing is written. Raises UsageError if it is no zip."""
    with _opened(source) as archive:
        walks, refused = _members(archive)
        home = folder or walks_folder()
        taken = {path.name for path in home.iterdir()} if home.is_dir() else set()
        arriving = []
        for name, infos in sorted(walks.items()):
            one = _arriving(archive, name, infos, home, taken, knowledge)
            taken.add(one.becomes)
            arriving.append(one)
    return Preview(tuple(arriving), tuple(refused))


def bring_in(source: Path, knowledge: Knowledge, folder: Path | None = None) -> tuple[Preview, tuple[Path, ...]]:
    """Write the walks of a zip into the folder of walks, each one whole or not at all.

    Returns the preview and the folders made. Raises UsageError if it is no zip, WalkError if a walk cannot be written.
    """
    home = folder or walks_folder()
    preview = look_into_zip(source, knowledge, home)
    made = []
    with _opened(source) as archive:
        walks, _ = _members(archive)
        for walk in preview.wanted:
            made.append(_write_walk(archive, walks[walk.name], home / walk.becomes))
    return preview, tuple(made)


def _opened(source: Path) -> ZipFile:
    try:
        return ZipFile(source)
    except (OSError, BadZipFile) as error:
        raise UsageError(
            f"{source} cannot be read as a zip ({error})", "a zip written by weedkey walks --export"
        ) from (error)


def _members(archive: ZipFile) -> tuple[dict[str, list[ZipInfo]], list[tuple[str, str]]]:
    """Members by walk, and those refused with the reason."""
    walks: dict[str, list[ZipInfo]] = {}
    refused: list[tuple[str, str]] = []
    seen: set[str] = set()
    for info in archive.infolist()[:MOST_FILES]:
        if info.is_dir() or info.filename == README:
            continue
        reason = _refusal(info) or ("it is in the zip twice" if info.filename.lower() in seen else "")
        seen.add(info.filename.lower())
        if reason:
            refused.append((info.filename, reason))
        else:
            walks.setdefault(info.filename.split("/", 1)[0], []).append(info)
    if len(archive.infolist()) > MOST_FILES:
        refused.append(("the rest", f"more than {MOST_FILES} files"))
    return walks, refused


def _refusal(info: ZipInfo) -> str:
    """Why a member is not taken; empty if it is part of a walk."""
    name, (folder, _, inside) = info.filename, info.filename.partition("/")
    most = MOST_TEXT_BYTES if _TEXTS.match(inside) else MOST_PHOTO_BYTES if _PHOTO.match(inside) else 0
    climbs = "\\" in name or ".." in PurePosixPath(name).parts or name.startswith("/")
    unnamed = not _FOLDER.match(folder) or folder.startswith(".") or folder.endswith((" ", "."))
    reasons = (
        (climbs, "its path leads out of the folder"),
        (stat.S_ISLNK(info.external_attr >> 16), "it is a link"),
        (bool(info.flag_bits & 1), "it is locked with a password"),
        (unnamed, "its folder has no name of a walk"),
        (most == 0, "it is no file of a walk"),
        (info.file_size > most, f"it is larger than {most >> 20} MB"),
    )
    return next((reason for holds, reason in reasons if holds), "")


def _arriving(  # noqa: PLR0917 - a walk of the zip and what it meets here
    archive: ZipFile, name: str, infos: list[ZipInfo], home: Path, taken: set[str], knowledge: Knowledge
) -> Arriving:
    files = tuple(sorted(info.filename.partition("/")[2] for info in infos))
    lawn = next((info for info in infos if info.filename == f"{name}/{LAWN_FILE}"), None)
    if lawn is None:
        return Arriving(name, "", files, f"there is no {LAWN_FILE}")
    try:
        parse_lawn(_bytes(archive, lawn).decode("utf-8-sig"), f"{name}/{LAWN_FILE}", knowledge)
    except (LawnError, UnicodeDecodeError) as error:
        wrong = str(error.issues[0]) if isinstance(error, LawnError) else "the lawn is not UTF-8 text"
        return Arriving(name, "", files, wrong)
    except (BadZipFile, OSError, ValueError, NotImplementedError) as error:
        return Arriving(name, "", files, f"it is damaged ({error})")
    if name in taken and _is_same(archive, infos, home / name):
        return Arriving(name, "", files)
    return Arriving(name, _free_name(name, taken), files)


def _is_same(archive: ZipFile, infos: Iterable[ZipInfo], folder: Path) -> bool:
    """True if every file of the walk is here with the same content."""
    files = [(folder / info.filename.partition("/")[2], info) for info in infos]
    return all(file.is_file() and file.read_bytes() == _bytes(archive, info) for file, info in files)


def _free_name(name: str, taken: set[str]) -> str:
    found, number = name, 2
    while found in taken:
        found = f"{name}-{number}"
        number += 1
    return found


def _bytes(archive: ZipFile, info: ZipInfo) -> bytes:
    """The content of a member, never more than it said it would be."""
    with archive.open(info) as stream:
        content = stream.read(info.file_size + 1)
    if len(content) > info.file_size:
        raise ValueError("it holds more than it says")
    return content


def _write_walk(archive: ZipFile, infos: Iterable[ZipInfo], target: Path) -> Path:
    """All files of one walk, made beside its place and then moved there in one step."""
    target.parent.mkdir(parents=True, exist_ok=True)
    part = Path(tempfile.mkdtemp(prefix=".import-", dir=target.parent))
    try:
        for info in infos:
            file = part / info.filename.partition("/")[2]
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_bytes(_bytes(archive, info))
        part.chmod(0o755)
        part.rename(target)
    except (OSError, ValueError, BadZipFile) as error:
        shutil.rmtree(part, ignore_errors=True)
        raise WalkError(f"{target}: the walk could not be written ({error}).") from error
    return target
