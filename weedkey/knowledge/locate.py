"""Where the shipped knowledge lies: inside an installed package, or beside it in a checkout."""

from __future__ import annotations

from pathlib import Path

import weedkey
from weedkey.errors import Issue, KnowledgeError, Where

PACKAGE = Path(weedkey.__file__).resolve().parent
INSTALLED = PACKAGE / "_knowledge"
CHECKOUT = PACKAGE.parent / "knowledge"
BUNDLE = PACKAGE / "_bundle.json"


def shipped_folder() -> Path:
    """The folder of the shipped entries; KnowledgeError if there is none.

    ``weedkey`` is an ordinary folder of files in a wheel and in a checkout alike, so its own path answers what
    ``importlib.resources.files("weedkey")`` would, without the import.
    """
    for folder in (INSTALLED, CHECKOUT):
        if folder.is_dir():
            return folder
    issue = Issue(
        "knowledge-missing",
        "error",
        Where(str(INSTALLED)),
        "the shipped knowledge is missing",
        "",
        "the installation again",
    )
    raise KnowledgeError([issue])


def is_installed(folder: Path) -> bool:
    """True if the folder is the copy inside an installed package, which nobody edits."""
    return folder == INSTALLED
