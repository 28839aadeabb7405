"""The bundled typefaces: which file, how wide a text runs, where it breaks, and the box it fills.

In: text.  Out: millimetres (sizes are in points).  Characters a face lacks are taken from the serif,
which has the most Latin letters, else from the Japanese face, where those have them.
"""

import math
from functools import cache, lru_cache
from importlib.resources import files
from typing import Any

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from polestitch.sheets.sheet import MM_PER_POINT, Box, Face, Text

FILES = {
    "serif": "PolestitchSerif-Regular",
    "serif italic": "PolestitchSerif-Italic",
    "serif bold": "PolestitchSerif-Semibold",
    "sans": "PolestitchSans-Regular",
    "sans bold": "PolestitchSans-Bold",
    "japanese": "PolestitchMincho-Regular",
}
RISE, DROP = 0.70, 0.24  # of the size: capitals and descenders of the bundled faces


@cache
def font(face: str) -> TTFont:
    """The face as the PDF engine knows it, registered under its file's name."""
    made = TTFont(FILES[face], str(files("polestitch.fonts").joinpath(f"{FILES[face]}.ttf")))
    pdfmetrics.registerFont(made)
    return made


def _has(face: str, character: str) -> bool:
    glyphs: dict[int, Any] = font(face).face.charToGlyph
    return ord(character) in glyphs


@lru_cache(maxsize=4096)
def runs(text: str, face: Face) -> tuple[tuple[str, str], ...]:
    """``text`` cut into pieces of one font each: (face, piece)."""
    if text.isascii():
        return ((face, text),) if text else ()
    pieces: list[tuple[str, str]] = []
    for character in text:
        wanted = next((name for name in (face, "serif", "japanese") if _has(name, character)), face)
        if pieces and pieces[-1][0] == wanted:
            pieces[-1] = (wanted, pieces[-1][1] + character)
        else:
            pieces.append((wanted, character))
    return tuple(pieces)


@lru_cache(maxsize=8192)
def width_mm(text: str, face: Face, size: float) -> float:
    """How far ``text`` runs in mm."""
    return float(sum(font(name).stringWidth(piece, size) for name, piece in runs(text, face)) * MM_PER_POINT)


def text_box(mark: Text) -> Box:
    """The upright box a text fills, turned or not."""
    width, size = width_mm(mark.text, mark.face, mark.size), mark.size * MM_PER_POINT
    left = {"start": 0.0, "middle": -width / 2, "end": -width}[mark.anchor]
    turn = math.radians(mark.turn)
    corners = [(x, y) for x in (left, left + width) for y in (-RISE * size, DROP * size)]
    xs = [mark.x + x * math.cos(turn) - y * math.sin(turn) for x, y in corners]
    ys = [mark.y + x * math.sin(turn) + y * math.cos(turn) for x, y in corners]
    return min(xs), min(ys), max(xs), max(ys)


def lines(text: str, face: Face, size: float, width: float) -> tuple[str, ...]:
    """``text`` broken at spaces into lines no wider than ``width`` mm; a word too long is cut."""
    done: list[str] = []
    for paragraph in text.splitlines() or [""]:
        line = ""
        for word in paragraph.split():
            for part in _parts(word, face, size, width):
                longer = f"{line} {part}" if line else part
                if line and width_mm(longer, face, size) > width:
                    done.append(line)
                    longer = part
                line = longer
        done.append(line)
    return tuple(done)


def _parts(word: str, face: Face, size: float, width: float) -> list[str]:
    """``word`` itself, or pieces of it that fit."""
    if width_mm(word, face, size) <= width:
        return [word]
    keep = len(word) - 1
    while keep > 1 and width_mm(word[:keep], face, size) > width:
        keep -= 1
    return [word[:keep], *_parts(word[keep:], face, size, width)] if len(word) > 1 else [word]
