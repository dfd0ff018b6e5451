"""Open data sets for the benches, taken out of published packages on the developer's machine. Nothing is shipped.

    pip install rdata scikit-learn
    python tests/bench/fetch_data.py FOLDER

runs ``pip download --no-deps Orange3==3.40.0 pgmpy==1.1.2`` and
``apt-get download r-cran-mlbench r-cran-cba r-cran-cluster`` in FOLDER and unpacks them with ``dpkg -x``.
Zoo: Orange3 (GPL-3+). Soybean, votes: r-cran-mlbench (GPL-2). Mushroom: r-cran-cba (GPL-2). plantTraits, animals:
r-cran-cluster (GPL). Lymph-node network: pgmpy (MIT).
"""

from __future__ import annotations

import gzip
import itertools
import re
import subprocess
import sys
import warnings
import zipfile
import zlib
from pathlib import Path

WHEELS = ("Orange3==3.40.0", "pgmpy==1.1.2")
PACKAGES = ("r-cran-mlbench", "r-cran-cba", "r-cran-cluster")
#: Diseases of the network in its own order: benign, Hodgkin's, other lymphoid and blood cancers, from elsewhere.
NETWORK_GROUPS = ((25, "benign"), (9, "hodgkin"), (21, "lymphoma"), (8, "other"))


def fetch(folder: Path) -> None:
    """Download and unpack whatever is not there yet."""
    folder.mkdir(parents=True, exist_ok=True)
    for wheel in WHEELS:
        if not list(folder.glob(f"{wheel.split('==')[0].lower()}*.whl")):
            subprocess.run(
                [sys.executable, "-m", "pip", "download", "-q", "--no-deps", "-d", folder, wheel], check=True
            )
    for package in PACKAGES:
        if not list(folder.glob(f"{package}_*.deb")):
            subprocess.run(["apt-get", "download", "-qq", package], cwd=folder, check=True)
    for deb in folder.glob("*.deb"):
        subprocess.run(["dpkg", "-x", deb, folder / "unpacked"], check=True)


def read_member(folder: Path, wheel: str, name: str) -> bytes:
    """One file out of a wheel."""
    with zipfile.ZipFile(next(folder.glob(f"{wheel}*.whl"))) as archive:
        return archive.read(name)


def load_zoo(folder: Path) -> tuple[list[list[str | None]], list[str]]:
    """101 animals x 16 attributes, 7 classes."""
    lines = read_member(folder, "orange3", "Orange/datasets/zoo.tab").decode().splitlines()[3:]
    cells = [line.split("\t") for line in lines if line]
    return [list(row[1:17]) for row in cells], [row[17] for row in cells]


def load_frame(folder: Path, path: str, name: str, label: str) -> tuple[list[list[str | None]], list[str]]:
    """A data frame out of an .rda file: attributes as text (None where missing), and the class."""
    import rdata

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        frame = rdata.read_rda(folder / "unpacked/usr/lib/R/site-library" / path)[name]
    return frame_rows(frame, label)


def frame_rows(frame, label: str | None):
    """Rows of text cells of a data frame, and its label column."""
    columns = [column for column in frame.columns if column != label]
    rows = [
        [None if cell != cell or cell is None else str(cell) for cell in row]  # noqa: PLR0124 - NaN
        for row in frame[columns].itertuples(index=False)
    ]
    return rows, [str(value) for value in frame[label]] if label else []


def load_soybean(folder: Path):
    """683 plants x 35 attributes, 19 diseases."""
    return load_frame(folder, "mlbench/data/Soybean.rda", "Soybean", "Class")


def load_votes(folder: Path):
    """435 members x 16 votes, 2 parties."""
    return load_frame(folder, "mlbench/data/HouseVotes84.rda", "HouseVotes84", "Class")


def load_mushroom(folder: Path):
    """8 124 mushrooms x 21 attributes (the constant one left out), edible or poisonous."""
    rows, labels = load_frame(folder, "cba/data/Mushroom.rda", "Mushroom", "class")
    keep = [place for place in range(len(rows[0])) if len({row[place] for row in rows}) > 1]
    return [[row[place] for place in keep] for row in rows], labels


def load_plants(folder: Path) -> list[list[str | None]]:
    """136 plant species x 31 traits of cluster::plantTraits; the three numeric traits cut at their quartiles."""
    import rdata
    from numpy import nanquantile, searchsorted

    base = folder / "unpacked/usr/lib/R/library/cluster/data/Rdata"
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        index = rdata.conversion.convert(rdata.parser.parse_data(base.with_suffix(".rdx").read_bytes()))
        start, size = (int(value) for value in index["variables"]["plantTraits"])
        chunk = base.with_suffix(".rdb").read_bytes()[start : start + size]
        frame = rdata.conversion.convert(rdata.parser.parse_data(zlib.decompress(chunk[4:])))
    for column in ("pdias", "longindex", "durflow"):
        values = frame[column].astype(float)
        cuts = nanquantile(values, [0.25, 0.5, 0.75])
        frame[column] = [None if value != value else f"q{searchsorted(cuts, value)}" for value in values]  # noqa: PLR0124
    return frame_rows(frame, None)[0]


class Network:
    """The lymph-node network: variables with states, parents and tables, in an order in which parents come first."""

    def __init__(self, text: str) -> None:
        self.states: dict[str, list[str]] = {}
        for name, states in re.findall(r"variable (\w+) \{\s*type discrete \[ \d+ \] \{ ([^}]*?)\s*\};", text):
            self.states[name] = [state.strip() for state in states.split(",") if state.strip()]
        self.parents: dict[str, list[str]] = {}
        self.tables: dict[str, dict[tuple[str, ...], list[float]]] = {}
        for head, body in re.findall(r"probability \( ([^)]*) \) \{(.*?)\n\}", text, re.DOTALL):
            name, *parents = (part.strip() for part in re.split(r"[|,]", head))
            self.parents[name] = parents
            table: dict[tuple[str, ...], list[float]] = {}
            for key, values in re.findall(r"\(([^)]*)\)\s*([^;]*);", body):
                table[tuple(part.strip() for part in key.split(","))] = [float(value) for value in values.split(",")]
            flat = re.search(r"table ([^;]*);", body)
            if flat:
                table[()] = [float(value) for value in flat.group(1).split(",")]
            self.tables[name] = table
        self.order: list[str] = []
        while len(self.order) < len(self.states):
            self.order += [
                name
                for name in self.states
                if name not in self.order and all(parent in self.order for parent in self.parents[name])
            ]

    def draw(self, random) -> dict[str, str]:
        """One case, drawn from the full network."""
        case: dict[str, str] = {}
        for name in self.order:
            chances = self.tables[name][tuple(case[parent] for parent in self.parents[name])]
            case[name] = random.choices(self.states[name], chances)[0]
        return case

    def given_disease(self, name: str) -> dict[str, list[float]]:
        """P(finding | disease), the other parents summed out exactly."""
        return {disease: self._sum_out(name, {"Fault": disease}) for disease in self.states["Fault"]}

    def _sum_out(self, name: str, known: dict[str, str]) -> list[float]:
        free = [parent for parent in self.parents[name] if parent not in known]
        if not free:
            return self.tables[name][tuple(known[parent] for parent in self.parents[name])]
        total = [0.0] * len(self.states[name])
        for values, weight in self._joint(free, known):
            row = self.tables[name][tuple({**known, **values}[parent] for parent in self.parents[name])]
            total = [old + weight * value for old, value in zip(total, row, strict=True)]
        return total

    def _joint(self, names: list[str], known: dict[str, str]):
        """Joint states of a few variables given the disease, with their chances."""
        needed: set[str] = set()
        stack = list(names)
        while stack:
            name = stack.pop()
            if name not in known and name not in needed:
                needed.add(name)
                stack.extend(self.parents[name])
        order = [name for name in self.order if name in needed]
        for states in itertools.product(*(self.states[name] for name in order)):
            values = dict(zip(order, states, strict=True))
            weight = 1.0
            for name in order:
                row = self.tables[name][tuple({**known, **values}[parent] for parent in self.parents[name])]
                weight *= row[self.states[name].index(values[name])]
                if weight == 0:
                    break
            if weight > 0:
                yield values, weight


def load_network(folder: Path) -> Network:
    """63 diseases x 108 findings."""
    packed = read_member(folder, "pgmpy", "pgmpy/utils/example_models/pathfinder.bif.gz")
    return Network(gzip.decompress(packed).decode())


if __name__ == "__main__":
    fetch(Path(sys.argv[1] if len(sys.argv) > 1 else "bench-data"))
