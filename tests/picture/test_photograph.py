"""Photographs from elsewhere, written by Pillow in every awkward way: right, or one sentence."""

import io
import struct
import zlib

import pytest
from PIL import Image, PngImagePlugin

from polestitch.errors import DesignError
from polestitch.picture.photograph import made_anew, pixels

RED, BLUE = (200, 30, 30), (20, 40, 180)
ORIENTATION, GPS, ARTIST = 0x0112, 0x8825, 0x013B  # Exif 2.3, tags of IFD0


def two_halves(mode: str = "RGB") -> Image.Image:
    """Left half red, right half blue, wider than high."""
    photo = Image.new("RGB", (120, 80), RED)
    photo.paste(BLUE, (60, 0, 120, 80))
    return photo.convert(mode)


def saved(photo: Image.Image, kind: str, **options: object) -> bytes:
    file = io.BytesIO()
    photo.save(file, kind, **options)
    return file.getvalue()


def near(found: tuple[int, ...], wanted: tuple[int, int, int], slack: int = 12) -> bool:
    return all(abs(a - b) <= slack for a, b in zip(found, wanted, strict=True))


def colour_at(photo: Image.Image, x: float, y: float) -> tuple[int, ...]:
    found = photo.getpixel((int(x * photo.width), int(y * photo.height)))
    assert isinstance(found, tuple)
    return found


# Exif: what row 0 and column 0 of the stored picture are to who looks; so where the stored left half (red) is seen.
@pytest.mark.parametrize(
    ("orientation", "red"),
    [(1, "left"), (2, "right"), (3, "right"), (4, "left"), (5, "top"), (6, "top"), (7, "bottom"), (8, "bottom")],
)
def test_a_photograph_is_turned_upright(orientation: int, red: str) -> None:
    exif = Image.Exif()
    exif[ORIENTATION] = orientation
    shown = pixels(saved(two_halves(), "JPEG", exif=exif, quality=95), 1600)
    assert (shown.width > shown.height) == (red in ("left", "right"))
    x, y = {"left": (0.1, 0.5), "right": (0.9, 0.5), "top": (0.5, 0.1), "bottom": (0.5, 0.9)}[red]
    assert near(colour_at(shown, x, y), RED)
    assert near(colour_at(shown, 1 - x, 1 - y), BLUE)


def test_nothing_but_pixels_is_kept() -> None:
    exif = Image.Exif()
    exif[ARTIST] = "somebody"
    exif.get_ifd(GPS)[2] = (53.0, 33.0, 0.0)
    data = saved(two_halves(), "JPEG", exif=exif, comment=b"secret") + b"PRIVATE"
    assert b"somebody" in data
    anew = made_anew(data)
    with Image.open(io.BytesIO(anew)) as opened:
        assert not opened.getexif()
        assert "comment" not in opened.info
    assert b"somebody" not in anew
    assert b"PRIVATE" not in anew
    text = PngImagePlugin.PngInfo()
    text.add_text("Author", "somebody")
    assert b"somebody" not in made_anew(saved(two_halves(), "PNG", pnginfo=text))


@pytest.mark.parametrize(
    ("mode", "kind"), [("CMYK", "JPEG"), ("RGB", "WEBP"), ("RGBA", "PNG"), ("P", "PNG"), ("RGB", "PNG")]
)
def test_every_common_kind_keeps_its_colours(mode: str, kind: str) -> None:
    shown = pixels(saved(two_halves(mode), kind, **({"quality": 95} if kind != "PNG" else {})), 1600)
    assert shown.mode == "RGB"
    slack = 52 if mode == "P" else 12  # a web palette steps by 51 and is dithered
    assert near(colour_at(shown, 0.2, 0.5), RED, slack)
    assert near(colour_at(shown, 0.8, 0.5), BLUE, slack)


def test_grey_of_sixteen_bits_keeps_its_middle() -> None:
    """A PNG of 16 bits a pixel written out by hand (PNG 1.2, colour type 0): half of 65535 is half of 255."""
    rows = b"".join(b"\0" + struct.pack(">4H", 0, 0x8080, 0x8080, 0xFFFF) for _ in range(4))
    head = struct.pack(">2I5B", 4, 4, 16, 0, 0, 0, 0)
    chunks = ((b"IHDR", head), (b"IDAT", zlib.compress(rows)), (b"IEND", b""))
    data = b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body)) for name, body in chunks
    )
    shown = pixels(data, 1600)
    assert [shown.getpixel((x, 1)) for x in range(4)] == [(0, 0, 0), (128, 128, 128), (128, 128, 128), (255, 255, 255)]


def test_what_is_clear_is_white() -> None:
    photo = Image.new("RGBA", (40, 40), (0, 0, 0, 0))
    assert pixels(saved(photo, "PNG"), 100).getpixel((20, 20)) == (255, 255, 255)


@pytest.mark.slow
def test_a_large_photograph_is_made_smaller_in_its_own_proportions() -> None:
    shown = pixels(saved(Image.new("RGB", (4000, 1000), RED), "JPEG"), 1600)
    assert shown.size == (1600, 400)


def bomb() -> bytes:
    """A PNG that says it is 40000 x 40000 and holds next to nothing."""
    data = bytearray(saved(two_halves(), "PNG"))
    data[16:24] = struct.pack(">II", 40_000, 40_000)
    data[29:33] = struct.pack(">I", zlib.crc32(bytes(data[12:29])))
    return bytes(data)


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "no photo"),
        (b"hello", "no photo"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "no photo"),
        (saved(two_halves(), "GIF"), "no photo"),
        (saved(two_halves(), "PNG")[:90], "damaged"),
        (saved(two_halves(), "JPEG")[:300], "damaged"),
        (bomb(), "larger than 60 million|no photo"),
    ],
    ids=["nothing", "text", "svg", "gif", "torn png", "torn jpeg", "bomb"],
)
def test_what_is_no_photograph_is_one_sentence(data: bytes, said: str) -> None:
    with pytest.raises(DesignError, match=said) as told:
        made_anew(data)
    assert "\n" not in str(told.value)
