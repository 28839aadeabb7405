"""A build as buffers: what the screen draws, in laying order.

In: a build (any record with its stages).  Out: ``Scene``, an index of plain data and arrays by name.
An arc is eight numbers, which the screen expands into a tube: the thread has no triangles here.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.built import Built, Stitched
from polestitch.laying.laid import Laid
from polestitch.scene.words import plain_words
from polestitch.stitching.motifs import palette

Wrong = Mapping[str, str]
DIGITS = 5  # of a unit vector in the index: 0.01 mm on the largest ball is a hundredth of a thread
HIGHEST = 255


@dataclass(frozen=True, eq=False)
class Scene:
    """``index`` is plain data; ``arrays`` are named, in the order in which they are sent."""

    index: dict[str, Any]
    arrays: dict[str, NDArray[Any]]


def scene(build: Stitched, question: int, wrong: Wrong | None = None) -> Scene:
    """The whole ball; ``question`` is the client's number, ``wrong`` the place and words of what can't be made."""
    laid, design = build.laid, build.design
    arrays: dict[str, NDArray[Any]] = {
        "arcs": _arcs(laid),
        "row_arcs": np.bincount(laid.arc_row, minlength=len(laid.row_layer)).astype("<u4"),
        "row_layer": laid.row_layer.astype("<u2"),
        "row_motif": laid.row_motif.astype("<u2"),
        "row_number": laid.row_number.astype("<u2"),
        "row_thread": laid.row_thread.astype("<u2"),
        "lift": lift(build),
        "overs": _overs(build),
    }
    index = {
        "question": question,
        "around_mm": build.ball.around_mm,
        "units": design.maker.units,
        "hand": design.maker.hand,
        "threads": _threads(build),
        "ground": str(design.ball.colour),
        "layers": _layers(build),
        "rows": len(laid.row_layer),
        "points": [_point(p) for p in (*build.marking.points, *build.marking.places)],
        "guidelines": [_guideline(line) for line in build.marking.guidelines],
        "crossings": len(build.crossings),
        "plain": plain_words(build.marking),
        "wrong": None if wrong is None else dict(wrong),
    }
    return Scene(index, arrays)


def empty_scene(question: int, wrong: Wrong) -> Scene:
    """A scene with nothing on it: of a document of which nothing can be shown."""
    none = np.zeros(0, "<u2")
    rows = {f"row_{name}": none for name in ("layer", "motif", "number", "thread")}
    index: dict[str, Any] = {
        "question": question,
        "around_mm": 0.0,
        "units": "mm",
        "hand": "right",
        "threads": [],
        "ground": "#2b2f3a",
        "layers": [],
        "rows": 0,
        "points": [],
        "guidelines": [],
        "crossings": 0,
        "plain": "",
        "wrong": dict(wrong),
    }
    arcs, counts = np.zeros((0, 8), "<f4"), np.zeros(0, "<u4")
    lift, overs = np.zeros(0, "u1"), np.zeros((0, 4), "<f4")
    return Scene(index, {"arcs": arcs, "row_arcs": counts, **rows, "lift": lift, "overs": overs})


def _arcs(laid: Laid) -> NDArray[np.float32]:
    """(a, 8) normal, offset, e1 and sweep: the point at t is ``offset n + r (cos t e1 + sin t n x e1)``."""
    parts = [laid.normal, laid.offset[:, None], laid.e1, laid.sweep[:, None]]
    return np.concatenate(parts, axis=1, dtype=np.float64).astype("<f4")


def lift(build: Built) -> NDArray[np.uint8]:
    """(a,) how many layers lie beneath an arc somewhere; one more where it crosses its own layer."""
    laid, met = build.laid, build.crossings
    layer = laid.row_layer[laid.arc_row]
    upper = np.where(build.over, met.second, met.first)
    lower = np.where(build.over, met.first, met.second)
    beneath = np.zeros((len(laid.sweep), len(build.design.layers)), dtype=bool)
    beneath[upper, layer[lower]] = True
    return np.minimum(beneath.sum(axis=1), HIGHEST).astype(np.uint8)


def _overs(build: Built) -> NDArray[np.float32]:
    """(k, 4) where the arc laid earlier lies on top: the place, and that arc's index as the bits of a u32."""
    turned = np.flatnonzero(~build.over)
    overs = np.zeros((len(turned), 4), dtype="<f4")
    overs[:, :3] = build.crossings.point[turned]
    overs.view("<u4")[:, 3] = build.crossings.first[turned]
    return overs


def _threads(build: Built) -> list[dict[str, Any]]:
    pitches = palette(build.design, build.ball).pitch
    return [
        {"name": t.name, "colour": str(t.colour), "metallic": t.metallic, "pitch": round(pitch, 7)}
        for t, pitch in zip(build.design.threads, pitches)
    ]


def _layers(build: Stitched) -> list[dict[str, Any]]:
    laid = build.laid
    of_span = laid.row_layer[laid.span_row]
    told = []
    for k, layer in enumerate(build.design.layers):
        mine = laid.row_layer == k
        motifs, rows = np.unique(laid.row_motif[mine], return_counts=True)
        told.append(
            {
                "name": layer.name,
                "technique": layer.technique,
                "motifs": len(motifs),
                "places": [motif.place for motif in build.motifs if motif.layer == k],
                "rows": rows.tolist(),
                "spans": int((of_span == k).sum()),
            }
        )
    return told


def _point(point: Any) -> dict[str, Any]:
    return {"name": point.name, "kind": point.kind, "ways": point.ways, "xyz": _rounded(point.at)}


def _guideline(line: Any) -> dict[str, Any]:
    return {
        "name": line.name,
        "normal": _rounded(line.normal),
        "start": _rounded(line.start),
        "sweep": round(float(line.sweep), DIGITS),
        "offset": round(float(line.offset), DIGITS),
    }


def _rounded(vector: NDArray[np.float64]) -> list[float]:
    return [value + 0.0 for value in np.round(vector, DIGITS).tolist()]
