"""The traditional repertoire as published: each family's division, techniques and pages, and where to find it here.

In: ``repertoire.json``.  Out: ``REPERTOIRE``.  Divisions and techniques are those of the pages, read by hand; where a
page gives only the name, or a common way, the lists are empty.
"""

import json
from pathlib import Path
from typing import NamedTuple


class Published(NamedTuple):
    """One family as its pages tell it."""

    called: str
    families: list[str]  # our names; each of them is one
    divisions: list[str]  # each of ours works on one of these; none: not told
    techniques: list[str]  # in each of ours
    sources: list[str]  # each of ours names one of them


REPERTOIRE = [Published(**row) for row in json.loads(Path(__file__).with_suffix(".json").read_text(encoding="utf-8"))]
