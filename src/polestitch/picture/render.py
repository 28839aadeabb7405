"""The picture of a ball: like a photograph for a catalogue.

In: a ``Subject`` and a ``View`` (or a build and an address).  Out: RGBA bytes, or a PNG file's bytes.
The same ball gives the same bytes every time.
"""

import io
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from polestitch.laying.built import Built
from polestitch.picture.develop import developed, expose, unexposed
from polestitch.picture.fragments import fragments, stage
from polestitch.picture.scene import Subject
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
    shown = replace(shown, laid=replace(shown.laid, row_pitch=shown.laid.row_pitch * _PLUMP))
    large = size * times
    frame = Frame(large, RADIUS * large, (CENTRE[0] * large, CENTRE[1] * large))
    scene = stage(shown, view, frame)
    exposure = unexposed(frame)
    top, bottom, _, _ = frame.box
    for line in range(top, bottom, _STRIP):
        pieces = fragments(scene, (line, min(line + _STRIP, bottom)))
        expose(exposure, pieces, shaded(scene.scene, pieces), scene.scene.motif)
    thread = 2 * float(scene.scene.half[scene.scene.marked :].max(initial=scene.scene.half[0])) * frame.radius
    picture = developed(frame, exposure, thread)
    return picture if times == 1 else _reduced(picture, size)


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
