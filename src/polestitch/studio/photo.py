"""Colours of a photograph.  Runs in a worker, since files from elsewhere are opened here.

In: bytes of an image.  Out: up to eight colours, the commonest first.  Only pixels leave the file: whatever else
it carries is dropped with it.
"""

import io
import warnings

from PIL import Image, UnidentifiedImageError

from polestitch.errors import DesignError

MOST_PIXELS = 60_000_000
FORMATS = ("JPEG", "PNG", "WEBP")
SMALL = 160
MOST_COLOURS, CANDIDATES = 8, 32
APART = 0.06  # distance in OKLab; about twice what the eye can just tell


def photo_colours(data: bytes) -> list[str]:
    """Colours as ``#rrggbb``; ``DesignError`` for what is no photograph, or too large to open."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        pixels = _small(data)
    reduced = pixels.quantize(CANDIDATES, Image.Quantize.MEDIANCUT)
    table = reduced.getpalette() or []
    counted = sorted(reduced.getcolors() or [], reverse=True)
    return _unlike(["#" + bytes(table[3 * k : 3 * k + 3]).hex() for _, k in counted if isinstance(k, int)])


def _unlike(colours: list[str]) -> list[str]:
    """The commonest that can be told apart."""
    from coloraide import Color

    kept: list[Color] = []
    for colour in map(Color, colours):
        if len(kept) < MOST_COLOURS and all(colour.delta_e(other, method="ok") > APART for other in kept):
            kept.append(colour)
    return [colour.to_string(hex=True) for colour in kept]


def _small(data: bytes) -> Image.Image:
    """The photograph as a few plain pixels, on white where it is clear."""
    try:
        with Image.open(io.BytesIO(data), formats=FORMATS) as photo:
            if photo.width * photo.height > MOST_PIXELS:
                raise DesignError("file", "is larger than 60 million pixels; save the photo smaller")
            photo.draft("RGB", (SMALL, SMALL))
            photo.thumbnail((SMALL, SMALL))
            clear = photo.convert("RGBA")
    except DesignError:
        raise
    except (UnidentifiedImageError, Image.DecompressionBombError):
        raise DesignError("file", "is no photo that can be opened; choose a JPEG, PNG or WebP file") from None
    except (OSError, SyntaxError, ValueError, EOFError, IndexError, OverflowError):
        raise DesignError("file", "is damaged; save the photo again and choose that file") from None
    page = Image.new("RGB", clear.size, "#ffffff")
    page.paste(clear, mask=clear)
    return page


LARGEST, QUALITY = 1600, 82  # pixels of the longer side; JPEG's own scale


def made_anew(data: bytes) -> bytes:
    """The photograph as a JPEG made from its pixels alone, the right way up; nothing else of the file is kept."""
    from PIL import ImageOps

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            with Image.open(io.BytesIO(data), formats=FORMATS) as photo:
                if photo.width * photo.height > MOST_PIXELS:
                    raise DesignError("file", "is larger than 60 million pixels; save the photo smaller")
                photo.draft("RGB", (LARGEST, LARGEST))
                upright = ImageOps.exif_transpose(photo).convert("RGBA")
        except DesignError:
            raise
        except (UnidentifiedImageError, Image.DecompressionBombError):
            raise DesignError("file", "is no photo that can be opened; choose a JPEG, PNG or WebP file") from None
        except (OSError, SyntaxError, ValueError, EOFError, IndexError, OverflowError):
            raise DesignError("file", "is damaged; save the photo again and choose that file") from None
    upright.thumbnail((LARGEST, LARGEST))
    page = Image.new("RGB", upright.size, "#ffffff")
    page.paste(upright, mask=upright)
    file = io.BytesIO()
    page.save(file, "JPEG", quality=QUALITY)
    return file.getvalue()


def smaller(data: bytes, size: int) -> bytes:
    """A JPEG that ``made_anew`` made, with at most ``size`` pixels on its longer side."""
    with Image.open(io.BytesIO(data), formats=("JPEG",)) as photo:
        photo.draft("RGB", (size, size))
        shown = photo.convert("RGB")
    shown.thumbnail((size, size))
    file = io.BytesIO()
    shown.save(file, "JPEG", quality=QUALITY)
    return file.getvalue()
