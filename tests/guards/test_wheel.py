"""An installed wheel works outside the checkout: knowledge and compiled bundle inside."""

from __future__ import annotations

import json
import subprocess
import sys
import venv
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A clean environment with the freshly built wheel in it; returns the path of its ``weedkey``."""
    folder = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(folder), str(ROOT)],
        check=True,
        capture_output=True,
        timeout=300,
    )
    (wheel,) = folder.glob("weedkey-*.whl")
    home = folder / "environment"
    # The libraries of this environment serve; only weedkey itself must come from the wheel.
    venv.create(home, with_pip=False, system_site_packages=False)
    site = next(home.glob("lib/python*/site-packages"))
    (site / "libraries.pth").write_text("\n".join(library_paths()) + "\n", encoding="utf-8")
    subprocess.run(
        [sys.executable, "-m", "pip", "install", "--quiet", "--no-deps", "--target", str(site), str(wheel)],
        check=True,
        capture_output=True,
        timeout=300,
    )
    return home / "bin" / "python"


def library_paths() -> list[str]:
    """Folders of installed libraries of the running interpreter (not the checkout)."""
    return [path for path in sys.path if path.endswith("site-packages")]


def run(python: Path, *words: str, cwd: Path) -> str:
    """Standard output of the installed ``weedkey`` run far from the checkout."""
    done = subprocess.run(
        [str(python), "-P", "-m", "weedkey", *words], capture_output=True, text=True, cwd=cwd, timeout=120, check=False
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_the_knowledge_comes_from_the_wheel(installed: Path, tmp_path: Path) -> None:
    """The installed package reads its own compiled bundle, not the checkout."""
    code = (
        "import weedkey, pathlib; p = pathlib.Path(weedkey.__file__).parent; "
        "print(p); print((p / '_bundle.json').is_file())"
    )
    done = subprocess.run(
        [str(installed), "-P", "-c", code], capture_output=True, text=True, cwd=tmp_path, timeout=60, check=True
    )
    place, bundled = done.stdout.split()
    assert not Path(place).is_relative_to(ROOT)
    assert bundled == "True"


def test_name_choices_and_plan_run_from_the_wheel(installed: Path, tmp_path: Path) -> None:
    """The main commands answer with their documented keys."""
    words = ("name", "--turf", "zoysiagrass", "--month", "6", "--look", "plant_group=sedge", "--json")
    assert json.loads(run(installed, *words, cwd=tmp_path))["candidates"]
    choices = run(installed, "choices", "goosegrass", "--turf", "bermudagrass", "--month", "6", "--json", cwd=tmp_path)
    assert json.loads(choices)["verdict"]["kind"]
    plan = run(installed, "plan", "demo:tennessee_zoysiagrass", "--json", cwd=tmp_path)
    assert json.loads(plan)["visits"]


def test_drawings_come_from_the_wheel(installed: Path, tmp_path: Path) -> None:
    """The compiled drawings are inside and shown without any YAML library."""
    shown = run(installed, "traits", "--draw", "vernation", cwd=tmp_path)
    assert "█" in shown
    assert "rolled: the shoot is round" in shown
    code = (
        "import sys; from weedkey.cli.main import main; main(['traits', '--draw', 'ligule']); "
        "print([m for m in ('yaml', 'jsonschema') if m in sys.modules], file=sys.stderr)"
    )
    done = subprocess.run(
        [str(installed), "-P", "-c", code], capture_output=True, text=True, cwd=tmp_path, timeout=60, check=True
    )
    assert done.stderr.strip() == "[]"
