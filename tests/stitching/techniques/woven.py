"""Woven balls for tests: built, and told thread by thread."""

from collections.abc import Iterator
from itertools import pairwise
from typing import Any

import numpy as np

from polestitch.document.design import Design
from polestitch.pipeline import Build, build


def woven_ball(technique: str, division: str, where: str, rows: str, params: dict[str, Any], **ball: Any) -> Build:
    """A ball with one woven layer."""
    design = {
        "name": "woven",
        "ball": {"around": ball.get("around", "250 mm")},
        "threads": [
            {"name": name, "colour": "#123", "rows_per_cm": ball.get("rows_per_cm", 14)}
            for name in ("navy", "white", "gold", "red")
        ],
        "marking": {"division": division},
        "layers": [{"name": "one", "technique": technique, "where": where, "rows": rows, "params": params}],
    }
    return build(Design.model_validate(design))


def along_threads(made: Build) -> Iterator[list[bool]]:
    """For each span that crosses any, whether it lies over at one crossing after the other."""
    met = made.crossings
    arcs = np.concatenate([met.first, met.second])
    ts = np.concatenate([met.t_first, met.t_second])
    over = np.concatenate([~made.over, made.over])
    spans = made.laid.arc_span[arcs]
    for span in np.unique(spans):
        mine = np.flatnonzero(spans == span)
        yield over[mine[np.lexsort((ts[mine], arcs[mine]))]].tolist()


def goes_by_turns(flags: list[bool]) -> bool:
    """Whether over and under follow each other."""
    return all(one != two for one, two in pairwise(flags))
