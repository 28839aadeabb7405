"""The picture of a ball: like a photograph for a catalogue.

In: a ``Subject`` and a ``View`` (or a build and an address).  Out: RGBA bytes, or a PNG file's bytes.
The same ball gives the same bytes every time.  One ball in many colours is looked at once.
"""

import io
from collections.abc import Iterable, Iterator
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from polestitch.laying.built import Built
from polestitch.laying.laid import Ints
from polestitch.picture.develop import developed, expose, unexposed
from polestitch.picture.fragments import Fragments, Stage, fragments, stage
from polestitch.picture.scene import Subject, Yarn, colours
from polestitch.picture.shade import shaded
from polestitch.picture.subject import facing, subject
from polestitch.picture.view import Frame, View

RADIUS = 0.42  # of the ball, as a share of the picture's side
CENTRE = (0.5, 0.465)
_LEAST = 900
_STRIP = 64  # lines worked at a time: arrays that small are used again instead of being asked of the system
_PLUMP = 1.08  # thread is soft: it fills the hair's breadth that rows laid side by side leave in mid-span


def png(build: Built, place: str = "N", size: int = 1000) -> bytes:
    """A PNG file of the finished ball with the address ``place`` in the middle, on white."""
    return png_of(image(subject(build), facing(build, place), size))


def image(shown: Subject, view: View, size: int = 1000, least: int = _LEAST) -> NDArray[np.uint8]:
    """(size, size, 4) RGBA with the page clear; pictures smaller than ``least`` are taken larger and reduced."""
    times = -(-least // size)
    staged = _staged(shown, view, size * times)
    picture = _taken(staged, (fragments(staged, strip) for strip in _strips(staged.frame)))
    return picture if times == 1 else _reduced(picture, size)


def recoloured(
    shown: Subject, view: View, looks: Iterable[tuple[Ints, tuple[Yarn, ...]]], size: int = 240, least: int = 480
) -> Iterator[NDArray[np.uint8]]:
    """The same ball once for each look: (w,) which of its yarns each row has, and those yarns.

    What is on top of what is asked once, so a further look costs the light alone.  Only colours may differ: the
    threads lie as ``shown`` has them.
    """
    times = -(-least // size)
    staged = _staged(shown, view, size * times)
    pieces = [fragments(staged, strip) for strip in _strips(staged.frame)]
    arcs = len(staged.scene.half)
    for threads, yarns in looks:
        dressed = replace(staged.subject, laid=replace(staged.subject.laid, row_thread=threads), yarns=yarns)
        colour, metallic = colours(dressed, staged.scene.marked, staged.scene.stitched, arcs)
        picture = _taken(replace(staged, scene=replace(staged.scene, colour=colour, metallic=metallic)), pieces)
        yield picture if times == 1 else _reduced(picture, size)


def _staged(shown: Subject, view: View, size: int) -> Stage:
    plump = replace(shown, laid=replace(shown.laid, row_pitch=shown.laid.row_pitch * _PLUMP))
    return stage(plump, view, Frame(size, RADIUS * size, (CENTRE[0] * size, CENTRE[1] * size)))


def _strips(frame: Frame) -> Iterator[tuple[int, int]]:
    top, bottom, _, _ = frame.box
    return ((line, min(line + _STRIP, bottom)) for line in range(top, bottom, _STRIP))


def _taken(staged: Stage, pieces: Iterable[Fragments]) -> NDArray[np.uint8]:
    """The picture of what the strips see."""
    scene, exposure = staged.scene, unexposed(staged.frame)
    for piece in pieces:
        expose(exposure, piece, shaded(scene, piece), scene.motif)
    thread = 2 * float(scene.half[scene.marked :].max(initial=scene.half[0])) * staged.frame.radius
    return developed(staged.frame, exposure, thread)


def _reduced(picture: NDArray[np.uint8], size: int) -> NDArray[np.uint8]:
    return np.asarray(Image.fromarray(picture).resize((size, size), Image.Resampling.BOX))


def png_of(picture: NDArray[np.uint8], page: str | None = "#ffffff") -> bytes:
    """A PNG file of an RGBA picture laid on a ``page`` colour, or left clear with None."""
    sheet = Image.fromarray(picture)
    if page is not None:
        ball, sheet = sheet, Image.new("RGB", sheet.size, page)
        sheet.paste(ball, mask=ball)
    file = io.BytesIO()
    sheet.save(file, "PNG", compress_level=1)
    return file.getvalue()
