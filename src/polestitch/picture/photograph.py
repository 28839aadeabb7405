"""A photograph from elsewhere, made anew from its pixels: upright, on white, of a fitting size.

In: bytes of an image.  Out: bytes of a JPEG, or pixels; nothing else the file carries is kept.  Files from elsewhere
are opened here, so the studio runs this in a worker.
"""

import io
import warnings
from collections.abc import Iterator
from contextlib import contextmanager

from PIL import Image, ImageOps, UnidentifiedImageError

from polestitch.errors import DesignError

MOST_PIXELS = 60_000_000
FORMATS = ("JPEG", "PNG", "WEBP")
LARGEST, QUALITY = 1600, 82  # pixels of the longer side; JPEG's own scale
DEEP = ("I", "I;16", "I;16B", "I;16L", "I;16N")  # sixteen bits a pixel


def made_anew(data: bytes, largest: int = LARGEST, quality: int = QUALITY) -> bytes:
    """The photograph as a JPEG, the right way up; ``DesignError`` for what is no photograph, or too large to open."""
    page = pixels(data, largest)
    file = io.BytesIO()
    page.save(file, "JPEG", quality=quality)
    return file.getvalue()


def pixels(data: bytes, largest: int) -> Image.Image:
    """The photograph in plain RGB, upright, on white where it is clear, no side longer than ``largest`` pixels."""
    with opened(data) as photo:
        photo.draft("RGB", (largest, largest))
        upright = ImageOps.exif_transpose(photo)
        if upright.mode in DEEP:
            upright = upright.convert("I").point(lambda value: value * (1 / 257)).convert("L")
        clear = upright.convert("RGBA")
    clear.thumbnail((largest, largest), Image.Resampling.LANCZOS)
    page = Image.new("RGB", clear.size, "#ffffff")
    page.paste(clear, mask=clear)
    return page


@contextmanager
def opened(data: bytes) -> Iterator[Image.Image]:
    """The file as an image of an honest size; whatever is wrong with it, while it is read, is one sentence."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            with Image.open(io.BytesIO(data), formats=FORMATS) as photo:
                if photo.width * photo.height > MOST_PIXELS:
                    raise DesignError("file", "is larger than 60 million pixels; save the photo smaller")
                yield photo
        except DesignError:
            raise
        except (UnidentifiedImageError, Image.DecompressionBombError):
            raise DesignError("file", "is no photo that can be opened; choose a JPEG, PNG or WebP file") from None
        except (OSError, SyntaxError, ValueError, EOFError, IndexError, OverflowError):
            raise DesignError("file", "is damaged; save the photo again and choose that file") from None
