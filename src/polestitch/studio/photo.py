"""Colours of a photograph.  Runs in a worker, since files from elsewhere are opened here.

In: bytes of an image.  Out: up to eight colours, the commonest first.  Only pixels leave the file: whatever else
it carries is dropped with it.
"""

from PIL import Image

from polestitch.picture.photograph import pixels

SMALL = 160
MOST_COLOURS, CANDIDATES = 8, 32
APART = 0.06  # distance in OKLab; about twice what the eye can just tell


def photo_colours(data: bytes) -> list[str]:
    """Colours as ``#rrggbb``; ``DesignError`` for what is no photograph, or too large to open."""
    reduced = pixels(data, SMALL).quantize(CANDIDATES, Image.Quantize.MEDIANCUT)
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
