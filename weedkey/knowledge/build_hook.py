"""Compiles the knowledge into the wheel, so that an installed command reads one JSON file and needs no YAML."""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class CompileKnowledge(BuildHookInterface):  # type: ignore[type-arg]
    """Writes the bundle before a wheel is packed. A broken entry fails the build with its file and line."""

    PLUGIN_NAME = "custom"

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Compile and add the bundle; an editable install reads the YAML files of its checkout instead."""
        if self.target_name != "wheel" or version == "editable":
            return
        sys.path.insert(0, self.root)
        try:
            from weedkey.knowledge.bundle import compile_text, stamp_files
            from weedkey.knowledge.drawings import compile_drawings
            from weedkey.knowledge.loading import read_folder

            root = Path(self.root) / "knowledge"
            texts = {
                "_bundle.json": compile_text(read_folder(root), root, stamp_files(root)),
                "_drawings.json": compile_drawings(root),
            }
        finally:
            sys.path.remove(self.root)
        folder = Path(tempfile.mkdtemp())
        for name, text in texts.items():
            (folder / name).write_text(text, encoding="utf-8")
            build_data["force_include"][str(folder / name)] = f"weedkey/{name}"
