"""The picture of the Harbour Lights show: its ten balls on white in two rows, true to size beside each other.

In: the show and its designs in ``examples/harbour-lights/``.  Out: ``docs/pictures/harbour-lights-show.jpg``.
``python -m tools.show_picture`` paints it anew.
"""

import io
from collections.abc import Callable
from pathlib import Path

from PIL import Image

from polestitch.cli.printing import progress
from polestitch.document.codec import read
from polestitch.picture.render import CENTRE, RADIUS, image
from polestitch.picture.subject import facing, subject
from polestitch.pipeline import build
from polestitch.showing.exhibition import Exhibition, Shown

ROOT = Path(__file__).parents[1]
SHOW = ROOT / "examples" / "harbour-lights" / "show.json"
PICTURE = ROOT / "docs" / "pictures" / "harbour-lights-show.jpg"
WIDTH, ROWS, MOST_BYTES = 1600, 2, 250_000
_SIDE = 2 * RADIUS / 0.92  # of a ball's place, as a share of its picture: a little air between the balls
_UNDER = 1 - CENTRE[1] - RADIUS  # below the ball, where its shadow lies


def sheet(show: Exhibition, folder: Path, done: Callable[[str], None] = lambda _: None) -> Image.Image:
    """The balls in catalogue order; those of a row stand on one line.  ``done`` hears each ball's number."""
    designs = {record.number: str(record.design) for record in show.records}
    built = {shown.number: build(read((folder / designs[shown.number]).read_bytes())) for shown in show.shown}
    around = {number: each.ball.around_mm for number, each in built.items()}
    rows = _rows(show.shown)
    scale = min(WIDTH / (_SIDE * sum(around[shown.number] for shown in row)) for row in rows)
    heights = [round(scale * max(around[shown.number] for shown in row)) for row in rows]
    page = Image.new("RGB", (WIDTH, sum(heights)), "white")
    for k, row in enumerate(rows):
        floor = sum(heights[: k + 1])
        room = (WIDTH - scale * _SIDE * sum(around[shown.number] for shown in row)) / (len(row) + 1)
        left = room
        for shown in row:
            side = round(scale * around[shown.number])
            look = facing(built[shown.number], shown.facing or "N")
            ball = Image.fromarray(image(subject(built[shown.number]), look, side))
            lift = round(_UNDER * (heights[k] - side))
            page.paste(ball, (round(left - side * (1 - _SIDE) / 2), floor - side - lift), ball)
            done(shown.number)
            left += side * _SIDE + room
    return page


def _rows(shown: tuple[Shown, ...]) -> list[tuple[Shown, ...]]:
    most = -(-len(shown) // ROWS)
    return [shown[k : k + most] for k in range(0, len(shown), most)]


def jpeg(page: Image.Image, most: int = MOST_BYTES) -> bytes:
    """A JPEG file at the best quality that keeps it within ``most`` bytes."""
    for quality in range(92, 40, -3):
        file = io.BytesIO()
        page.save(file, "JPEG", quality=quality, optimize=True, progressive=True)
        if file.tell() <= most:
            break
    return file.getvalue()


def main() -> None:
    """Paint it."""
    show = Exhibition.model_validate_json(SHOW.read_bytes())
    with progress("Painting", len(show.shown)) as step:
        PICTURE.write_bytes(jpeg(sheet(show, SHOW.parent, step)))


if __name__ == "__main__":
    main()
