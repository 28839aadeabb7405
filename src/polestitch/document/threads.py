"""How wide one laid thread is, and how heavy: from what was measured, else from what is published.

In: a ``Thread``.  Out: ``Pitch`` in millimetres with its source in words, or tex (grams per kilometre).

Widths by size: published thread gauges give 7 threads of pearl 5 and 10 of pearl 8 to 5 mm, 3 floss
strands and one thick metallic to 1 mm (temarikai.com/ResourcesPages/threadgauges.html); one round of
pearl 3 covers two of pearl 5 (another maker's rule, sudukc.wordpress.com).  From tex: F. T. Peirce,
"The geometry of cloth structure", J. Textile Inst. 28 (1937) T45 (paper not seen), specific volume
1.1 cm3/g.  Any width from tex is good to about 20 % only.
"""

import difflib
import math
import re
from typing import NamedTuple

from polestitch.document.design import Measures, Reading, Thread
from polestitch.errors import DesignError

# Exact by definition: a pound is 453.59237 g, a hank of cotton 840 yd of 0.9144 m, denier counts 9000 m.
TEX_FROM_NE = 453.59237 / (840 * 0.9144) * 1000
TEX_FROM_NM = 1000.0
TEX_FROM_DENIER = 1 / 9
TEX_FROM_DTEX = 1 / 10
# Round thread of 1.1 cm3/g: d = sqrt(4 v tex 1e-5 / pi) cm, ten times that in mm.
PEIRCE_MM = 10 * math.sqrt(4 * 1.1 * 1e-5 / math.pi)
GAUGES = "published thread gauges"
BY_TEX = "Peirce's yarn-diameter formula, good to 20 %"
REMEDY = "or lay the thread side by side, count the threads in one centimetre and give that as rows_per_cm"

_NUMBER = r"(\d+(?:\.\d+)?)"
_DIRECT = re.compile(rf"(?:(tex|dtex|den|denier) {_NUMBER}|{_NUMBER} ?(tex|dtex|den|denier))")
_INDIRECT = re.compile(rf"(nm|ne) {_NUMBER}(?:/(\d+))?")
_PEARL = re.compile(r"(?:pearl|perle)(?: cotton)?(?: size| no\.?)? (\d+)")
_FACTOR = {"tex": 1.0, "dtex": TEX_FROM_DTEX, "den": TEX_FROM_DENIER, "denier": TEX_FROM_DENIER}


class Pitch(NamedTuple):
    """The width one laid thread takes beside its neighbour, and where the figure comes from."""

    mm: float
    source: str


def diameter_mm(tex: float) -> float:
    """Diameter of a round cotton thread by Peirce's formula."""
    return PEIRCE_MM * math.sqrt(tex)


def _by_weight(tex: float, weight: str) -> Pitch:
    return Pitch(diameter_mm(tex), f"from {weight} by {BY_TEX}")


SIZES = {
    "pearl 3": Pitch(20 / 14, "twice pearl 5: one round of pearl 3 covers two of pearl 5, a maker's published rule"),
    "pearl 5": Pitch(10 / 14, f"14 threads to the centimetre, {GAUGES}"),
    "pearl 8": Pitch(0.5, f"20 threads to the centimetre, {GAUGES}"),
    # 120 m in a 10 g ball, a published put-up; no gauge of it was found.
    "pearl 12": _by_weight(10 / 0.120, "120 m in a 10 g ball"),
    **{f"floss {n} strands": Pitch(n / 3, f"3 strands to the millimetre, {GAUGES}") for n in range(2, 7)},
    "floss 1 strand": Pitch(1 / 3, f"3 strands to the millimetre, {GAUGES}"),
    "fine metallic": Pitch(0.3, "common practice, no source"),
    "medium metallic": Pitch(0.6, "common practice, no source"),
    "thick metallic": Pitch(1.0, f"1 thread to the millimetre, {GAUGES}"),
    "sewing": _by_weight(27, "tex 27, a common all-purpose sewing thread,"),
}


def pitch_mm(thread: Thread, where: str = "", measures: Measures | None = None) -> Pitch:
    """Width of ``thread`` as laid; ``DesignError`` at ``where`` (its size) for a size nobody published.

    What was measured on this thread comes first, then what her hand's ``measures`` say of it, then tex, then the size.
    """
    if thread.rows_per_cm is not None:
        return Pitch(10 / thread.rows_per_cm, f"measured, {thread.rows_per_cm:g} threads to the centimetre")
    mine = own_pitch(thread, measures)
    if mine is not None and mine.length.mm:
        return Pitch(mine.length.mm, f"measured, {mine.length} as you lay it")
    if thread.tex is not None:
        return _by_weight(thread.tex, f"tex {thread.tex:g}")
    size = _tidied(thread.size)
    if size in SIZES:
        return SIZES[size]
    tex = tex_of(size)
    if tex is None:
        raise DesignError(where or f"size of {thread.name}", _unknown(thread.size))
    return _by_weight(tex, thread.size)


def own_pitch(thread: Thread, measures: Measures | None) -> Reading | None:
    """What she measured of this thread by its name, else by its size."""
    if measures is None:
        return None
    by_size = {_tidied(name): reading for name, reading in measures.pitch.items()}
    return measures.pitch.get(thread.name) or by_size.get(_tidied(thread.size))


def tex_of(size: str) -> float | None:
    """Tex of a size such as ``"tex 27"``, ``"40 den"``, ``"Nm 30/2"`` or ``"Ne 5/2"``; ``None`` if it is no count.

    A plied count is that of one ply over the number of plies: Ne 5/2 weighs as much as Ne 2.5.
    """
    direct = _DIRECT.fullmatch(_tidied(size))
    if direct:
        tex = float(direct[2] or direct[3]) * _FACTOR[direct[1] or direct[4]]
    else:
        indirect = _INDIRECT.fullmatch(_tidied(size))
        if indirect is None or float(indirect[2]) == 0:
            return None
        factor = TEX_FROM_NM if indirect[1] == "nm" else TEX_FROM_NE
        tex = factor / float(indirect[2]) * int(indirect[3] or 1)
    return tex if 0 < tex <= 5000 else None


def _tidied(size: str) -> str:
    """Lower case, single spaces, and pearl cotton by its plain name."""
    text = " ".join(size.lower().split())
    pearl = _PEARL.fullmatch(text)
    return f"pearl {pearl[1]}" if pearl else text


def _unknown(size: str) -> str:
    near = difflib.get_close_matches(_tidied(size), SIZES, n=2, cutoff=0.6)
    hint = f"did you mean {' or '.join(near)}? " if near else ""
    return (
        f'"{size[:40]}" is no size with a published width; {hint}use one of {", ".join(SIZES)}, '
        f'a count such as "tex 27", "Nm 30/2" or "Ne 5/2", {REMEDY}'
    )
