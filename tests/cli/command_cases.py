"""The shape of an answer of the command line in the tests."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any, NamedTuple


class Done(NamedTuple):
    """Exit code, standard output, standard error."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        """Standard output as JSON."""
        return json.loads(self.out)


Run = Callable[..., Done]
