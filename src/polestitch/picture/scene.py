"""Everything a picture shows, as one stack of arcs turned toward the eye: wrap, marking, stitching.

In: a ``Subject`` and a ``View``.  Out: ``Scene``, single-precision tables the shading looks up by arc.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.laid import Floats, Ints, Laid
from polestitch.laying.top import Reversals
from polestitch.picture.colours import linear
from polestitch.picture.raster import Singles
from polestitch.picture.view import View
from polestitch.picture.wrap import windings
from polestitch.sphere.arcs import Points


@dataclass(frozen=True)
class Yarn:
    """How a thread looks: its sRGB colour, and whether it is metallic."""

    colour: str
    metallic: bool = False


@dataclass(frozen=True, eq=False)
class Subject:
    """A ball to be pictured; ``yarns`` in the order of ``laid.row_thread``, ``ground`` the colour of the wrap."""

    laid: Laid
    yarns: tuple[Yarn, ...]
    ground: str
    around_mm: float
    marking: Laid | None = None
    marking_yarn: Yarn | None = None
    reversed_at: Reversals | None = None


@dataclass(frozen=True, eq=False)
class Scene:
    """Arcs in view axes, bottom ones first: those from ``stitched`` on are stitching, below ``marked`` wrap.

    An arc's point at angle t from its middle is offset normal + radius (cos t middle + sin t ahead).
    Lengths along are in half widths; ``first`` and ``last`` are where a free end begins, far away if
    the thread goes on.
    """

    normal: Singles  # (3, a)
    middle: Singles  # (3, a)
    ahead: Singles  # (3, a)
    offset: Singles
    radius: Singles
    half: Singles  # radians
    first: Singles
    last: Singles
    phase: Singles  # where in its twist an arc begins
    colour: Singles  # (3, a) linear light
    metallic: NDArray[np.bool_]
    twist: NDArray[np.int64]  # 0 none to TWISTS - 1 in full
    motif: Ints  # wrap -1, marking -2, then by motif
    marked: int
    stitched: int


TWISTS = 9
_FAR = np.float32(1e6)
_WRAP_MM = 0.17
_COVERS = 3.2


def wrap_of(around_mm: float) -> Laid:
    """Sewing thread wound until it covers the ball a good two times over."""
    width = 2 * np.pi * _WRAP_MM / around_mm
    return windings(int(_COVERS * around_mm / (np.pi * _WRAP_MM)), width)


def scene(subject: Subject, view: View, radius: float) -> Scene:
    """The arcs of ``subject`` seen from ``view`` on a ball of ``radius`` pixels."""
    stack = [wrap_of(subject.around_mm), *([subject.marking] if subject.marking else []), subject.laid]
    marked, stitched = len(stack[0].normal), sum(len(laid.normal) for laid in stack[:-1])
    arcs = stitched + len(subject.laid.normal)
    colour, metallic = colours(subject, marked, stitched, arcs)
    half = np.concatenate([laid.row_pitch[laid.arc_row] for laid in stack]) / 2
    # Below three pixels a thread's twist would only flicker.
    twist = np.clip((2 * half * radius - 2.4) / 2.4, 0, 1)
    twist[:marked] *= 0.25
    ends = [_free_ends(laid) for laid in stack]
    middle, ahead = _middles(stack)
    return Scene(
        normal=_turned(np.concatenate([laid.normal for laid in stack]), view),
        middle=_turned(middle, view),
        ahead=_turned(ahead, view),
        offset=np.concatenate([laid.offset for laid in stack]).astype(np.float32),
        radius=np.concatenate([laid.radius for laid in stack]).astype(np.float32),
        half=half.astype(np.float32),
        first=np.concatenate([first for first, _ in ends]).astype(np.float32),
        last=np.concatenate([last for _, last in ends]).astype(np.float32),
        phase=np.random.default_rng(3).uniform(0, 1000, arcs).astype(np.float32),
        colour=colour,
        metallic=metallic,
        twist=np.round(twist * (TWISTS - 1)).astype(np.int64),
        motif=_motifs(subject.laid, marked, stitched),
        marked=marked,
        stitched=stitched,
    )


def _motifs(laid: Laid, marked: int, stitched: int) -> Ints:
    """A number for every motif of every layer, by arc of the scene."""
    by_row = laid.row_layer * (laid.row_motif.max(initial=0) + 1) + laid.row_motif
    below = np.repeat(np.array([-1, -2]), [marked, stitched - marked])
    return np.concatenate([below, by_row[laid.arc_row]]).astype(np.int32)


def _turned(vectors: Points, view: View) -> Singles:
    return np.ascontiguousarray(view.seen(vectors).T, dtype=np.float32)


def _middles(stack: list[Laid]) -> tuple[Points, Points]:
    """From each circle's axis toward the middle of the arc, and the way the thread runs there."""
    e1, e2 = np.concatenate([laid.e1 for laid in stack]), np.concatenate([laid.e2 for laid in stack])
    half = np.concatenate([laid.sweep for laid in stack])[:, None] / 2
    return np.cos(half) * e1 + np.sin(half) * e2, np.cos(half) * e2 - np.sin(half) * e1


def _free_ends(laid: Laid) -> tuple[Floats, Floats]:
    """Where each arc ends for good, from its middle in half widths: not where its span goes on, nor on a whole turn."""
    reach = laid.length / laid.row_pitch[laid.arc_row]
    goes_on = np.diff(laid.arc_span) == 0
    whole = laid.sweep > 2 * np.pi - 1e-9
    first = np.where(np.append(False, goes_on) | whole, -_FAR, -reach)
    return first, np.where(np.append(goes_on, False) | whole, _FAR, reach)


def colours(subject: Subject, marked: int, stitched: int, arcs: int) -> tuple[Singles, NDArray[np.bool_]]:
    """(3, a) linear colour of every arc, each a little off its thread's, and whether it is metallic."""
    marking = subject.marking_yarn or Yarn(subject.ground)
    yarns = [Yarn(subject.ground), marking, *subject.yarns]
    index = np.zeros(arcs, dtype=np.int64)
    index[marked:stitched] = 1
    index[stitched:] = subject.laid.row_thread[subject.laid.arc_row] + 2
    chance = np.random.default_rng(5).normal(size=arcs)
    chance[:marked] *= 0.055
    chance[marked:] *= 0.012
    colour = np.array([linear(yarn.colour) for yarn in yarns])
    if subject.marking_yarn is None:
        colour[1] = 0.75 * colour[1] + 0.08
    colour = np.clip(colour[index] * (1 + chance)[:, None], 0.004, 0.88)
    metallic = np.array([yarn.metallic for yarn in yarns])
    return np.ascontiguousarray(colour.T, dtype=np.float32), metallic[index]
