"""What she takes away: booklet, strip, charts, picture, turntable, model, document.  Runs in a worker.

In: a document's text and options.  Out: ``Takeaway``: a file's name, kind and bytes.
"""

import io
import zipfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from polestitch.document.filenames import file_stem
from polestitch.errors import DesignError
from polestitch.pipeline import Build
from polestitch.studio.shown import made

Kind = Literal["booklet", "strip", "charts", "picture", "turntable", "model", "document"]
Say = Callable[[float, str], None]
FRAMES, FRAME_MS, TILT = 36, 90, np.radians(18)
WIDEST = 480  # pixels of a turntable: a few megabytes, half a minute of work


@dataclass(frozen=True)
class Options:
    """How she wants it."""

    paper: str = "a4"
    size: int = 1000
    facing: str = "N"
    transparent: bool = False
    format: str = ""


@dataclass(frozen=True)
class Takeaway:
    """One file."""

    name: str
    media: str
    data: bytes


def takeaway(kind: Kind, text: str, options: Options, say: Say) -> Takeaway:
    """The file; ``say`` is told how far it is."""
    if kind == "document":
        return Takeaway(f"{file_stem(_name_in(text))}.json", "application/json", text.encode())
    say(0.02, "Stitching the ball")
    build = made(text)
    ending, media, data = (
        _booklet(build, text, options, say) if kind == "booklet" else MAKERS[kind](build, options, say)
    )
    return Takeaway(f"{file_stem(build.design.name)}{ending}", media, data)


def _name_in(text: str) -> str:
    from polestitch.document.jsontext import json_object

    return str(json_object(text, "document").get("name", ""))


Made = tuple[str, str, bytes]
PDF, ZIP = "application/pdf", "application/zip"


def _booklet(build: Build, text: str, options: Options, say: Say) -> Made:
    from polestitch.document.jsontext import json_object
    from polestitch.document.upgrades import upgraded
    from polestitch.fitting import sizes_if_quick
    from polestitch.picture.render import png
    from polestitch.sheets.booklet import PICTURE, booklet
    from polestitch.sheets.sheet import paper_named

    paper_named(options.paper)
    say(0.1, "Taking the picture for the cover")
    picture = png(build, options.facing, PICTURE)
    say(0.4, "Looking at other sizes of ball")
    sizes = sizes_if_quick(upgraded(json_object(text, "design")), build)
    say(0.6, "Writing the pages")
    return "-booklet.pdf", PDF, booklet(build, options.paper, picture, sizes=sizes)


def _strip(build: Build, options: Options, say: Say) -> Made:
    from polestitch.sheets.strip import strip

    say(0.3, "Drawing the strip")
    return "-strip.pdf", PDF, strip(build.design.marking.division, build.ball.around_mm, options.paper)


def _charts(build: Build, options: Options, say: Say) -> Made:
    from polestitch.sheets.pdf import pdf
    from polestitch.sheets.svg import svg
    from polestitch.studio.charts import chart_sheets

    say(0.1, "Drawing the charts")
    sheets = chart_sheets(build, options.paper)
    if options.format != "svg":
        return "-charts.pdf", PDF, pdf(sheets, build.design.name)
    texts = [svg(sheet) for sheet in sheets]
    return ("-charts.svg", "image/svg+xml", texts[0].encode()) if len(texts) == 1 else _zipped(texts)


def _zipped(texts: Sequence[str]) -> Made:
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        for number, text in enumerate(texts, 1):
            archive.writestr(zipfile.ZipInfo(f"chart-{number}.svg"), text)
    return "-charts.zip", ZIP, file.getvalue()


def _picture(build: Build, options: Options, say: Say) -> Made:
    from polestitch.picture.render import image, png_of
    from polestitch.picture.subject import facing, subject
    from polestitch.picture.svg import svg

    view = facing(build, options.facing)
    say(0.1, "Taking the picture")
    if options.format == "svg":
        return ".svg", "image/svg+xml", svg(build, options.facing, options.size).encode()
    picture = image(subject(build), view, options.size)
    return ".png", "image/png", png_of(picture, None if options.transparent else "#ffffff")


def _turntable(build: Build, options: Options, say: Say) -> Made:
    """An animated GIF: every messenger shows it, and it needs no player."""
    from PIL import Image

    from polestitch.picture.render import image
    from polestitch.picture.subject import subject
    from polestitch.picture.view import view_of

    shown, size = subject(build), min(options.size, WIDEST)
    frames = []
    for k in range(FRAMES):
        say(0.05 + 0.9 * k / FRAMES, f"Picture {k + 1} of {FRAMES}")
        turn = 2 * np.pi * k / FRAMES
        at = np.array([np.cos(turn) * np.cos(TILT), np.sin(turn) * np.cos(TILT), np.sin(TILT)])
        ball = Image.fromarray(image(shown, view_of(at), size))
        page = Image.new("RGB", ball.size, "#ffffff")
        page.paste(ball, mask=ball)
        frames.append(page)
    say(0.96, "Putting the pictures together")
    # One palette for all frames, or the ground flickers.
    colours = frames[0].quantize(255, Image.Quantize.MEDIANCUT)
    flat = [frame.quantize(palette=colours, dither=Image.Dither.FLOYDSTEINBERG) for frame in frames]
    file = io.BytesIO()
    flat[0].save(file, "GIF", save_all=True, append_images=flat[1:], duration=FRAME_MS, loop=0, optimize=False)
    return "-turning.gif", "image/gif", file.getvalue()


def _model(build: Build, _options: Options, say: Say) -> Made:
    from polestitch.studio.model import model

    if not len(build.laid.sweep):
        raise DesignError("layers", "there is no thread on this ball yet; add a layer first")
    say(0.2, "Shaping the threads")
    return ".glb", "model/gltf-binary", model(build)


MAKERS: dict[str, Callable[[Build, Options, Say], Made]] = {
    "strip": _strip,
    "charts": _charts,
    "picture": _picture,
    "turntable": _turntable,
    "model": _model,
}
