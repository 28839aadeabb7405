"""Pictures of pieces, made fit for paper: upright, on white, no larger than print can show.

In: PNG or JPEG bytes by inventory number.  Out: JPEG bytes with their size, and image marks.
"""

import io
from collections.abc import Mapping
from dataclasses import dataclass

from PIL import Image as Pictures
from PIL import ImageOps

from polestitch.errors import DesignError
from polestitch.picture.photograph import pixels
from polestitch.sheets.sheet import Image
from polestitch.showing.record import PieceRecord

LARGE, MIDDLE, SMALL = 1280, 640, 200  # pixels: 230 and more to the inch at 140, 60 and 18 mm
QUALITY = 86


@dataclass(frozen=True)
class Plate:
    """A JPEG and its pixels."""

    data: bytes
    width: int
    height: int


def plate(number: str, pictures: Mapping[str, bytes], largest: int = LARGE, square: bool = False) -> Plate | None:
    """The picture of a piece, cut square from its middle if asked; none where there is none.

    ``DesignError`` at the piece's number for bytes that are no picture.
    """
    if number not in pictures:
        return None
    try:
        page = pixels(pictures[number], largest)
    except DesignError as error:
        raise DesignError(f"the picture of {number}", error.what) from None
    if square:
        page = ImageOps.fit(page, (min(page.size),) * 2)
    return Plate(_jpeg(page), page.width, page.height)


def _jpeg(page: Pictures.Image) -> bytes:
    file = io.BytesIO()
    page.save(file, "JPEG", quality=QUALITY)
    return file.getvalue()


def fitted(shown: Plate, width: float, height: float, words: str) -> Image:
    """The picture as large as the box allows, in the middle of it."""
    scale = min(width / shown.width, height / shown.height)
    wide, tall = shown.width * scale, shown.height * scale
    return Image((width - wide) / 2, (height - tall) / 2, wide, tall, shown.data, words)


def words_of(record: PieceRecord) -> str:
    """What a picture shows, for who cannot see it: her own words, else the title."""
    return next((photo.words for photo in record.photos if photo.words), record.title)
