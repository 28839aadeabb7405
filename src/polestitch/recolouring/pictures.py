"""Small pictures of a ball in the colours of every plan: the real stitched ball, front and back.

In: a ``Build`` and a ``Dozen``.  Out: RGBA pictures, or one sheet of them as a PNG file.
"""

import io
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from importlib.resources import files

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

from polestitch.laying.laid import Ints
from polestitch.picture.render import png_of, recoloured
from polestitch.picture.scene import Subject, Yarn
from polestitch.picture.subject import subject
from polestitch.picture.view import view_of
from polestitch.pipeline import Build
from polestitch.recolouring.coloured import NOBODY
from polestitch.recolouring.dozen import Dozen

SIZE = 240
# A little above line 1, so that a pole and the obi both show; the other side lies opposite.
FRONT = np.array([0.77, 0.28, 0.57])
Picture = NDArray[np.uint8]
Say = Callable[[float, str], None]


@dataclass(frozen=True, eq=False)
class Pair:
    """One plan's ball from both sides, (size, size, 4) each."""

    front: Picture
    back: Picture


def pictures(build: Build, made: Dozen, size: int = SIZE, say: Say = lambda share, words: None) -> tuple[Pair, ...]:
    """Front and back for every plan, in their order; ``say`` hears how far it is."""
    shown, count = subject(build), len(made.plans.plans)
    looks = [look(build, made, plan) for plan in made.plans.plans]
    sides: list[list[Picture]] = []
    for side, toward in enumerate((FRONT, -FRONT)):
        taken = []
        for k, picture in enumerate(recoloured(_with(shown, looks), view_of(toward), looks, size)):
            say((side + (k + 1) / count) / 2, f"Picture {side * count + k + 1} of {2 * count}")
            taken.append(picture)
        sides.append(taken)
    return tuple(Pair(front, back) for front, back in zip(*sides))


def _with(shown: Subject, looks: Sequence[tuple[Ints, tuple[Yarn, ...]]]) -> Subject:
    """The subject with every yarn of the looks, which may have more than the design."""
    return Subject(
        shown.laid, looks[0][1], shown.ground, shown.around_mm, shown.marking, shown.marking_yarn, shown.reversed_at
    )


def look(build: Build, made: Dozen, plan: Sequence[int]) -> tuple[Ints, tuple[Yarn, ...]]:
    """(w,) which yarn each row has with this plan, and all yarns: those of the design, then new ones."""
    known = {thread.name: k for k, thread in enumerate(build.design.threads)}
    listed = [*build.design.threads, *(thread for thread in made.threads if thread.name not in known)]
    place = {thread.name: k for k, thread in enumerate(listed)}
    index = np.array([place[made.threads[colour].name] for colour in plan], dtype=np.int32)
    part = made.coloured.rows
    rows = np.where(part == NOBODY, build.laid.row_thread, index[np.maximum(part, 0)]).astype(np.int32)
    return rows, tuple(Yarn(thread.colour, thread.metallic) for thread in listed)


def contact_sheet(pairs: Sequence[Pair], columns: int = 4) -> bytes:
    """One PNG of all plans, numbered, front beside back, on white."""
    size = len(pairs[0].front)
    wide, high = 2 * size, size + size // 8
    rows = -(-len(pairs) // columns)
    across = min(columns, len(pairs))
    sheet = Image.new("RGB", (across * wide, rows * high), "#ffffff")
    pen, face = ImageDraw.Draw(sheet), _face(size // 11)
    for k, pair in enumerate(pairs):
        x, y = k % columns * wide, k // columns * high
        for picture, at in ((pair.front, x), (pair.back, x + size)):
            ball = Image.fromarray(picture)
            sheet.paste(ball, (at, y), ball)
        pen.text((x + wide // 2, y + size), str(k + 1), fill="#23262d", font=face, anchor="ma")
    file = io.BytesIO()
    sheet.save(file, "PNG", optimize=True)
    return file.getvalue()


def _face(size: int) -> ImageFont.FreeTypeFont:
    data = (files("polestitch.fonts") / "PolestitchSans-Regular.ttf").read_bytes()
    return ImageFont.truetype(io.BytesIO(data), size)


def small_files(pairs: Sequence[Pair]) -> Iterator[tuple[bytes, bytes]]:
    """(front, back) of each plan as WebP with a clear page, a tenth of a PNG."""
    return ((_webp(pair.front), _webp(pair.back)) for pair in pairs)


def _webp(picture: Picture) -> bytes:
    file = io.BytesIO()
    Image.fromarray(picture).save(file, "WEBP", quality=84, method=4)
    return file.getvalue()


def plain_files(pairs: Sequence[Pair]) -> Iterator[tuple[bytes, bytes]]:
    """(front, back) of each plan as PNG on white, for paper."""
    return ((png_of(pair.front), png_of(pair.back)) for pair in pairs)
