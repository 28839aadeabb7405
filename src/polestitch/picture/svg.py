"""The ball as a vector picture: marking, thread in laying order, names of points.

In: a build, or a ``Subject`` and a ``View``.  Out: one SVG document as text, numbers to 0.01.
Thread that goes under an earlier one is painted first and the earlier one again over the crossing.
"""

from collections import defaultdict
from collections.abc import Iterator
from xml.sax.saxutils import escape, quoteattr

import numpy as np

from polestitch.document.colours import Colour
from polestitch.laying.built import Built
from polestitch.laying.crossings import Crossings
from polestitch.laying.laid import Laid
from polestitch.marking.marking import Marking
from polestitch.picture.bezier import Curves, Indices, Parts, curves, paths, visible
from polestitch.picture.scene import Subject
from polestitch.picture.subject import facing, subject
from polestitch.picture.view import View
from polestitch.sphere.arcs import dot

_RADIUS = 0.46  # of the ball, as a share of the side
_INK = "#23262D"


def svg(build: Built, place: str = "N", size: int = 600) -> str:
    """The finished ball with the address ``place`` in the middle and the marked points named."""
    view = facing(build, place)
    names = _names(build.marking, view, size)
    return drawing(subject(build), view, size, under=(build.crossings, np.flatnonzero(~build.over)), names=names)


def drawing(
    shown: Subject,
    view: View,
    size: int,
    under: tuple[Crossings, Indices] | None = None,
    names: tuple[str, ...] = (),
) -> str:
    """A subject as SVG; ``under`` are its crossings and which of them have the earlier thread on top."""
    reach = _RADIUS * size
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{size}" height="{size}" viewBox="0 0 {size} {size}">',
        f'<circle cx="{_number(size / 2)}" cy="{_number(size / 2)}" r="{_number(reach)}" '
        f'fill="{shown.ground}" stroke="{_INK}" stroke-width="{_number(size / 600)}"/>',
        f'<g stroke-width="{_number(size / 1200)}" stroke-linejoin="round">',
        *_marking(shown, view, size),
        *_thread(shown, view, size, under),
        "</g>",
        *names,
        "</svg>",
    ]
    return "\n".join(lines) + "\n"


def _marking(shown: Subject, view: View, size: int) -> Iterator[str]:
    if shown.marking is None:
        return
    colour = _lighter(shown.ground) if shown.marking_yarn is None else shown.marking_yarn.colour
    width = _number(float(shown.marking.row_pitch[0]) * _RADIUS * size)
    lines = "".join(_lines(paths(shown.marking, view), size))
    yield f'<path fill="none" stroke="{colour}" stroke-width="{width}" d="{lines}"/>'


def _thread(shown: Subject, view: View, size: int, under: tuple[Crossings, Indices] | None) -> Iterator[str]:
    """Each span as a ribbon, and after it what lies over it in spite of being earlier."""
    laid = shown.laid
    again = {} if under is None else _again(shown, view, size, under)
    parts = visible(laid, view)
    edges = curves(laid, view, parts, 1), curves(laid, view, parts, -1)
    for span, path in _by_span(laid, edges[0], _ribbons(edges, size)).items():
        row = int(laid.span_row[span])
        yield f'<path fill="{_colour(shown, row)}" stroke="{_darker(_colour(shown, row))}" d="{path}"/>'
        yield from again.get(span, ())


def _again(shown: Subject, view: View, size: int, under: tuple[Crossings, Indices]) -> dict[int, list[str]]:
    """By later span: short pieces of the threads that lie over it, at each such crossing in sight."""
    met, which = under
    which = which[view.seen(met.point[which])[:, 2] > 0]
    laid, second = shown.laid, met.second[which]
    parts = _crossing_parts(met, which)
    edges = curves(laid, view, parts, 1), curves(laid, view, parts, -1)
    pieces: dict[int, list[str]] = defaultdict(list)
    sides = zip(_lines(edges[0], size), _lines(edges[1], size), _ribbons(edges, size))
    for span, row, (one, other, ribbon) in zip(laid.arc_span[second], laid.arc_row[parts.arc], sides):
        colour = _colour(shown, int(row))
        fill = f'<path fill="{colour}" d="{ribbon}"/>'
        pieces[int(span)].append(f'{fill}<path fill="none" stroke="{_darker(colour)}" d="{one}{other}"/>')
    return pieces


def _crossing_parts(met: Crossings, which: Indices) -> Parts:
    """The stretch of each crossing's earlier thread that the later one is wide."""
    laid, point = met.laid, met.point[which]
    first, second = met.first[which].astype(np.int64), met.second[which].astype(np.int64)
    ways = [np.cross(laid.normal[arc], point) / laid.radius[arc, None] for arc in (first, second)]
    sine = np.sqrt(np.maximum(1 - dot(ways[0], ways[1]) ** 2, 0.01))
    pitch = laid.row_pitch[laid.arc_row]
    reach = (0.55 * pitch[second] / sine + 0.2 * pitch[first]) / laid.radius[first]
    t = met.t_first[which]
    return Parts(first, np.maximum(t - reach, 0), np.minimum(t + reach, laid.sweep[first]))


def _by_span(laid: Laid, drawn: Curves, runs: list[str]) -> dict[int, str]:
    """Path data of runs, put together by span in laying order."""
    by_span: dict[int, str] = defaultdict(str)
    for start, data in zip(np.flatnonzero(~drawn.joined).tolist(), runs):
        by_span[int(laid.arc_span[drawn.arc[start]])] += data
    return by_span


def _lines(drawn: Curves, size: int) -> list[str]:
    """Path data of each run of joined pieces."""
    return ["".join(_forth(run, "M")) for run in _runs(drawn, size)]


def _ribbons(edges: tuple[Curves, Curves], size: int) -> list[str]:
    """Path data of each run of joined pieces: along one edge, and back along the other."""
    sides = zip(_runs(edges[0], size), _runs(edges[1], size))
    return ["".join(_forth(one, "M")) + "".join(_forth(_back(other), "L")) + "Z" for one, other in sides]


Run = list[list[float]]


def _runs(drawn: Curves, size: int) -> list[Run]:
    """Runs of joined pieces, eight numbers a piece, to a hundredth of the picture's units."""
    scaled = drawn.controls * [_RADIUS * size, -_RADIUS * size] + size / 2
    numbers = (np.round(scaled.reshape(-1, 8), 2) + 0.0).tolist()
    starts = np.flatnonzero(~drawn.joined).tolist()
    return [numbers[start:stop] for start, stop in zip(starts, [*starts[1:], len(numbers)])]


def _back(run: Run) -> Run:
    return [[x for k in (6, 4, 2, 0) for x in piece[k : k + 2]] for piece in reversed(run)]


def _forth(run: Run, command: str) -> Iterator[str]:
    at: list[float] = []
    for piece in run:
        if piece[:2] != at:
            yield f"{command}{piece[0]:.6g} {piece[1]:.6g}"
        yield "C" + " ".join(f"{value:.6g}" for value in piece[2:])
        command, at = "L", piece[6:]


def _names(marking: Marking, view: View, size: int) -> tuple[str, ...]:
    """Names of the points in sight, each with a rim that keeps it legible over thread."""
    letters = _number(size / 48)
    group = (
        f'<g font-family="sans-serif" font-size="{letters}" text-anchor="middle" fill="{_INK}" '
        f'stroke="#FAF7F1" stroke-width="{_number(size / 200)}" paint-order="stroke">'
    )
    texts = []
    for spot in marking.points:
        x, y, depth = view.seen(spot.at)
        if depth > 0.2:
            place = f'x="{_number(size / 2 + _RADIUS * size * x)}" y="{_number(size / 2 - _RADIUS * size * y)}"'
            texts.append(f"<text {place} data-name={quoteattr(spot.name)}>{escape(spot.name)}</text>")
    return (group, *texts, "</g>")


def _colour(shown: Subject, row: int) -> str:
    return shown.yarns[int(shown.laid.row_thread[row])].colour


def _number(value: float) -> str:
    return f"{round(value, 2) + 0.0:.6g}"


def _darker(colour: str) -> str:
    return "#" + "".join(f"{int(0.55 * part):02x}" for part in Colour(colour).rgb)


def _lighter(colour: str) -> str:
    return "#" + "".join(f"{int(0.8 * part + 40):02x}" for part in Colour(colour).rgb)
