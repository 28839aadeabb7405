"""The catalogue's cover: several balls as on a tray, title, line, venue and days.

In: an ``Exhibition``, pictures and the grid.  Out: marks of one page.
"""

from collections.abc import Iterator, Mapping, Sequence

from polestitch.sheets.blocks import Style, paragraph
from polestitch.sheets.pages import Grid
from polestitch.sheets.sheet import INDIGO, INK, MARGIN, QUIET, Line, Mark, Pen, rectangle
from polestitch.sheets.show.dates import when
from polestitch.sheets.show.plates import LARGE, MIDDLE, Plate, fitted, plate, words_of
from polestitch.showing.exhibition import Exhibition
from polestitch.showing.pieces import pieces
from polestitch.showing.record import PieceRecord

TITLE = Style("serif bold", 44, 50)
LINE = Style("serif italic", 16, 22, QUIET)
PLACE = Style("serif", 12.5, 17)
# How many stand in each row of the tray.
TRAY = ((), (1,), (2,), (1, 2), (2, 2), (2, 3), (3, 3), (2, 3, 2))
# A drawn ball leaves white round itself, and balls of one row lie in the gaps of the next: they stand nearer than
# their pictures are wide and high.
CLOSER = (0.94, 0.95)
FOOT = 72.0  # mm under the pictures


def cover(exhibition: Exhibition, pictures: Mapping[str, bytes], grid: Grid) -> tuple[Mark, ...]:
    """One page."""
    height = grid.paper.height - 2 * MARGIN - FOOT
    marks = [*_tray(exhibition, pictures, (grid.width, height))]
    y = MARGIN + (height if marks else height / 3) + 6.0
    title = paragraph(exhibition.title, grid.width, TITLE)
    marks += [rectangle((MARGIN, y, MARGIN + 24.0, y + 1.2), None, INDIGO), *title.at(MARGIN, y + 5.0)]
    if exhibition.line:
        marks += paragraph(exhibition.line, grid.width, LINE).at(MARGIN, y + 7.0 + title.height)
    return (*marks, *_place(exhibition, grid))


def _place(exhibition: Exhibition, grid: Grid) -> Iterator[Mark]:
    """Venue at the left and days at the right, along the foot."""
    venue = "\n".join(line.strip() for line in exhibition.venue.splitlines() if line.strip())
    days = when(exhibition)
    if not venue and not days:
        return
    left, right = paragraph(venue, grid.span(6), PLACE), paragraph(days, grid.span(6), PLACE)
    y = grid.paper.height - MARGIN - max(left.height, right.height) - 3.0
    yield Line(MARGIN, y, grid.paper.width - MARGIN, y, Pen(INK, 0.2))
    yield from left.at(MARGIN, y + 3.0)
    yield from right.at(MARGIN + grid.x(6), y + 3.0)


def _tray(exhibition: Exhibition, pictures: Mapping[str, bytes], room: tuple[float, float]) -> Iterator[Mark]:
    records = [piece.record for piece in pieces(exhibition) if piece.record.number in pictures][: len(TRAY) - 1]
    rows = TRAY[len(records)]
    if not rows:
        return
    drawn = all(not record.photos for record in records)
    (beside, below), gap = (CLOSER, 0.0) if drawn else ((1.0, 1.0), 3.0)
    wide, tall = 1 + beside * (max(rows) - 1), 1 + below * (len(rows) - 1)
    side = min(room[0] / wide, room[1] / tall)
    top = MARGIN + (room[1] - side * tall) / 2
    largest = LARGE if len(records) == 1 else MIDDLE
    for (x, y), record in zip(_places(rows, (side * beside, side * below)), records, strict=True):
        shown = plate(record.number, pictures, largest, square=True)
        if shown is not None:
            left = MARGIN + room[0] / 2 - side / 2 + x
            yield _pictured(record, shown, side - gap).moved(left + gap / 2, top + y + gap / 2)


def _pictured(record: PieceRecord, shown: Plate, side: float) -> Mark:
    return fitted(shown, side, side, words_of(record))


def _places(rows: Sequence[int], step: tuple[float, float]) -> Iterator[tuple[float, float]]:
    """Places of the pictures: right of the middle and down from the top, rows centred."""
    for k, count in enumerate(rows):
        yield from (((n - (count - 1) / 2) * step[0], k * step[1]) for n in range(count))
