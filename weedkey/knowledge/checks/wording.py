"""Texts: no brand names, no product rates, the spellings of the trade."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator
from functools import cache

from weedkey.errors import Issue, Where
from weedkey.knowledge.checks.base import Check, Subject, walk_texts
from weedkey.knowledge.entries import RawEntry, shown_path

_SALT = "weedkey:"
#: Digests of trade and product names; the names themselves are kept nowhere.
NAMES = frozenset(
    """
    008c71dae161 1232352ea63f 13b86135fcfa 13ba46c56d8d 159d05415b4d 235fdfe7c6ed 24f411b89888
    2c76219c7b63 2f02c8f3b69d 3745627e53fa 40360db0fcf1 42f3448bd343 43aac6aa0029 45acdefa8f74
    45c70f341e32 5650a77e5259 58a455dd182c 5f5ffe59534d 61527f7c8aff 6523980f6730 661d130bc312
    67a5843adeb7 6805478387c1 6bcfdd137728 6d8fc0a77db5 88b09a2e5296 8d98fceefd15 94cdb21c2c2a
    95ff599e1e92 9b183781ce28 9cca91b046e7 9f4fe61f9d48 a3c4e98d1914 a5b2705bb3be afb934b9c5b0
    b38ccbcdd3cf b5ed9c66544f b5ff1bff72df b85e15cfd15f bac124a26889 bff07b64aa94 c0b68e27cc58
    c1e5b4a6b94c c24021980a94 c26264aaa4b1 c4bafbfa524e c5e33f16871f c6c59cbfde85 c8ecc2a109a4
    ca959589083c cbcaf2c0441a cf112baa9577 d2572f089efd d5c5f70d5124 daece44796a5 dc0c0778368a
    dc39f29d9ca9 dc496118298a df1c5995b816 df70344f3d0c e3514e875948 e3cd35bb1595 e7c04c2ac417
    e80a198feab9 e9dbc0309805 f656a3de9159 fabbb2d2443b ff870f8cc817
""".split()  # noqa: SIM905 - a block of digests reads best as one text
)
#: Digests of names that are also ordinary words: noticed only where capitalised inside a sentence.
NAMES_ALSO_WORDS = frozenset(
    """
    045af3b5264a 0fd8bf92aebd 1ca3f4d33c9a 32a0a70cf7f9 41cf3d7c8fb3 42703c5093aa 484d26953b3d
    4e95e16dd325 60fd51f55f46 663e55c9c348 82273804572f 84600f4c2181 8b8c32d30966 9acb72e0110b
    a1c39858c69f ab80cba2a089 bde14642490b dc210264c962
""".split()  # noqa: SIM905 - a block of digests reads best as one text
)
_WORD = re.compile(r"[A-Za-z@][A-Za-z0-9@'-]+")
_ADDRESS = re.compile(r"https?://\S+")
_SENTENCE_START = re.compile(r"[.!?:#*>\-\"'\[(]\s*$")
#: Keys whose text stands as printed elsewhere, or is an id.
_AS_PRINTED = frozenset(
    {
        "id",
        "title",
        "institution",
        "url",
        "also",
        "also_called",
        "former_scientific",
        "scientific",
        "family",
        "sources",
        "former_ids",
    }
)


@cache
def digest(word: str) -> str:
    """The digest under which a name is known."""
    return hashlib.sha256((_SALT + word.lower()).encode()).hexdigest()[:12]


def find_brand_words(line: str) -> Iterator[tuple[int, str]]:
    """(column from 1, word) of every word of a line that is a trade name; the address of a source stays as it is."""
    line = _ADDRESS.sub(lambda found: " " * len(found.group()), line)
    for match in _WORD.finditer(line):
        known = digest(match.group())
        inside = match.group()[0].isupper() and match.start() > 0 and not _SENTENCE_START.search(line[: match.start()])
        if known in NAMES or (known in NAMES_ALSO_WORDS and inside):
            yield match.start() + 1, match.group()


class BrandName(Check):
    """Brands change hands and contents; the active ingredient is what works."""

    id = "brand-name"
    about = "No trade or product name stands in a file; active ingredients by their common names only."

    def find(self, subject: Subject) -> Iterator[Issue]:
        """Lines that hold a trade name."""
        for file in dict.fromkeys(raw.file for raw in subject.raws):
            for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), 1):
                for column, word in find_brand_words(line):
                    where = Where(shown_path(file), number, column)
                    yield Issue(
                        self.id,
                        self.severity,
                        where,
                        f"{word!r} is a trade name",
                        "the active ingredient by its common name",
                    )


_RATE = re.compile(
    r"\d(?:[\d.,]*)\s*(?:kg|g|mg|lbs?|pounds?|oz|ounces?|fl\.? ?oz|pints?|pt|quarts?|qt|gal(?:lons?)?|l|ml)"
    r"\.?\s*(?:a\.?i\.?|a\.?e\.?)?\s*"
    r"(?:/|per|an?|on)\s*(?:ha|hectares?|acres?|a|1,?000|m2|sq)\b",
    re.IGNORECASE,
)


class ProductRate(Check):
    """The rate is on the label in hand; a rate from a book would be followed."""

    id = "product-rate"
    about = "No product rate stands in a weed or in a control with a label."

    def find(self, subject: Subject) -> Iterator[Issue]:
        """Texts that hold a rate."""
        for raw, entry in subject.of_kind("weed", "control"):
            if raw.kind.name == "control" and not entry.is_chemical:
                continue
            for path, text in walk_texts(raw.value):
                found = _RATE.search(text)
                if found:
                    yield self.issue(
                        raw,
                        path,
                        f"{found.group()!r} is a rate",
                        "words such as low, label or high rate, without a figure",
                    )


_SPELLINGS: tuple[tuple[re.Pattern[str], str], ...] = tuple(
    (re.compile(pattern, re.IGNORECASE), right)
    for pattern, right in (
        (r"\bpre[ -]?emergen(?:ce|t|ts)\b(?<!pre-emergence)", "pre-emergence"),
        (r"\bpost[ -]?emergen(?:ce|t|ts)\b(?<!post-emergence)", "post-emergence"),
        (r"\bgreen(?: ?up)\b", "green-up"),
        (r"\bcool season\b", "cool-season"),
        (r"\bwarm season\b", "warm-season"),
        (r"\bspot-treatments?\b", "spot treatment"),
        (r"\bbermuda grass\b", "bermudagrass"),
        (r"\bzoysia grass\b", "zoysiagrass"),
        (r"\bcentipede grass\b", "centipedegrass"),
        (r"\bst\.? augustine(?: grass)\b", "St. Augustinegrass"),
        (r"\bbahia grass\b", "bahiagrass"),
        (r"\bcarpet grass\b", "carpetgrass"),
        (r"\bbuffalo grass\b", "buffalograss"),
        (r"\bcrab grass\b", "crabgrass"),
        (r"\bnut sedge\b", "nutsedge"),
    )
)


class TradeSpelling(Check):
    """One spelling for one thing, so that a search finds all of it."""

    id = "trade-spelling"
    severity = "warning"
    about = "Words of the trade are spelled as the trade spells them."

    def find(self, subject: Subject) -> Iterator[Issue]:
        """Texts with another spelling; names and titles as printed are left alone."""
        for raw in subject.raws:
            if raw.kind.name == "source":
                continue
            for path, text in walk_texts(raw.value):
                if any(part in _AS_PRINTED for part in path):
                    continue
                for pattern, right in _SPELLINGS:
                    found = pattern.search(text)
                    if found:
                        yield self.issue(raw, path, f"{found.group()!r} is spelled otherwise in the trade", "", right)


#: field of a turf -> units that its figures may have
_UNITS = {
    "mowing_in": ("in",),
    "sun_hours": ("hours", "hours a day"),
    "grows_f": ("F", "F air", "F soil"),
    "dormant_below_f": ("F", "F air", "F soil"),
}


class Units(Check):
    """A figure in the wrong unit is worse than none."""

    id = "unit"
    about = "Figures stand in the unit that their key names."

    def find(self, subject: Subject) -> Iterator[Issue]:
        """Figures of turfs in another unit."""
        for raw, turf in subject.of_kind("turf"):
            for key, units in _UNITS.items():
                for row, item in enumerate(getattr(turf, key)):
                    if item.unit not in units:
                        yield self._unit_issue(raw, key, row, item.unit, units)

    def _unit_issue(self, raw: RawEntry, key: str, row: int, unit: str, units: tuple[str, ...]) -> Issue:
        return self.issue(
            raw, (key, row, "unit"), f"the unit {unit!r} does not fit {key}", "one of " + ", ".join(units), units[0]
        )
