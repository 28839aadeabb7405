"""A sheet as SVG text, to the hundredth of a millimetre, the same text every time.

In: ``Sheet``.  Out: str.  Faces are named with fallbacks, not embedded.
"""

import base64
from functools import singledispatch
from html import escape

from polestitch.sheets.lettering import runs
from polestitch.sheets.sheet import MM_PER_POINT, Circle, Image, Line, Mark, Path, Pen, Sheet, Text

FAMILIES = {
    "serif": "font-family=\"Source Serif 4, 'Polestitch Serif', serif\"",
    "serif italic": 'font-family="Source Serif 4, \'Polestitch Serif\', serif" font-style="italic"',
    "serif bold": 'font-family="Source Serif 4, \'Polestitch Serif\', serif" font-weight="600"',
    "sans": "font-family=\"Atkinson Hyperlegible Next, 'Polestitch Sans', sans-serif\"",
    "sans bold": 'font-family="Atkinson Hyperlegible Next, \'Polestitch Sans\', sans-serif" font-weight="700"',
    "japanese": "font-family=\"Shippori Mincho, 'Polestitch Mincho', serif\"",
}


def svg(sheet: Sheet) -> str:
    """The whole sheet as one SVG document at its true size."""
    width, height = _n(sheet.paper.width), _n(sheet.paper.height)
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}">'
    )
    title = f"<title>{escape(sheet.title)}</title>\n" if sheet.title else ""
    body = "\n".join(element(mark) for mark in sheet.marks)
    return f'{head}\n{title}<rect fill="#ffffff" height="{height}" width="{width}"/>\n{body}\n</svg>\n'


@singledispatch
def element(mark: Mark) -> str:
    """One mark as one SVG element."""
    raise TypeError(f"{type(mark).__name__} is no mark")


@element.register
def _(mark: Line) -> str:
    ends = f'x1="{_n(mark.x1)}" x2="{_n(mark.x2)}" y1="{_n(mark.y1)}" y2="{_n(mark.y2)}"'
    return f"<line {_paint(mark.pen, None)} {ends}/>"


@element.register
def _(mark: Path) -> str:
    steps = [f"M{_n(mark.start[0])} {_n(mark.start[1])}"]
    steps += [("L" if len(piece) == 2 else "C") + " ".join(map(_n, piece)) for piece in mark.pieces]
    return f'<path d="{"".join(steps)}{"Z" if mark.closed else ""}" {_paint(mark.pen, mark.fill)}/>'


@element.register
def _(mark: Circle) -> str:
    return f'<circle cx="{_n(mark.x)}" cy="{_n(mark.y)}" {_paint(mark.pen, mark.fill)} r="{_n(mark.radius)}"/>'


@element.register
def _(mark: Text) -> str:
    x, y = _n(mark.x), _n(mark.y)
    turn = f' transform="rotate({_n(mark.turn)} {x} {y})"' if mark.turn else ""
    pieces = runs(mark.text, mark.face)
    inner = "".join(
        escape(piece) if face == mark.face else f"<tspan {FAMILIES[face]}>{escape(piece)}</tspan>"
        for face, piece in pieces
    )
    return (
        f'<text fill="{mark.colour}" {FAMILIES[mark.face]} font-size="{_n(mark.size * MM_PER_POINT)}" '
        f'text-anchor="{mark.anchor}" x="{x}" y="{y}"{turn}>{inner}</text>'
    )


@element.register
def _(mark: Image) -> str:
    kind = "png" if mark.data.startswith(b"\x89PNG") else "jpeg"
    data = base64.b64encode(mark.data).decode("ascii")
    label = f' role="img" aria-label="{escape(mark.words)}"' if mark.words else ""
    return (
        f'<image height="{_n(mark.height)}" href="data:image/{kind};base64,{data}"{label} '
        f'width="{_n(mark.width)}" x="{_n(mark.x)}" y="{_n(mark.y)}"/>'
    )


def _paint(pen: Pen | None, fill: str | None) -> str:
    parts = [f'fill="{fill or "none"}"']
    if pen is not None:
        parts += [f'stroke="{pen.colour}"', f'stroke-width="{_n(pen.width)}"']
        if pen.dash:
            parts.append(f'stroke-dasharray="{" ".join(map(_n, pen.dash))}"')
        if pen.cap == "round":
            parts += ['stroke-linecap="round"', 'stroke-linejoin="round"']
    return " ".join(parts)


def _n(value: float) -> str:
    """``value`` to 0.01, without idle zeros."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
