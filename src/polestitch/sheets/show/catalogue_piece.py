"""Pages of the catalogue about its pieces: a picture, a title, what is known, and a text.

In: an ``Exhibition``, pictures and the grid.  Out: (numbers, title, marks) a page.
"""

from collections.abc import Iterator, Mapping, Sequence
from itertools import accumulate

from polestitch.sheets.blocks import Block, Style, beside, paragraph, stack
from polestitch.sheets.pages import Grid
from polestitch.sheets.sheet import MARGIN, QUIET, Mark
from polestitch.sheets.show.facts import facts, story
from polestitch.sheets.show.plates import Plate, fitted, plate, words_of
from polestitch.sheets.show.setting import line_blocks
from polestitch.showing.exhibition import Exhibition
from polestitch.showing.pieces import pieces
from polestitch.showing.record import PieceRecord

NUMBER = Style("sans", 9, 12, QUIET)
TITLE = Style("serif bold", 26, 31)
PATTERN = Style("serif italic", 14, 19, QUIET)
NAME = Style("sans", 8, 11.5, QUIET)
VALUE = Style("serif", 10, 13.5)
TEXT = Style("serif", 11.5, 17)
TALLEST, LEAST = 142.0, 90.0  # mm of a picture
APART = 7.0
Page = tuple[tuple[str, ...], str, tuple[Mark, ...]]


def piece_pages(exhibition: Exhibition, pictures: Mapping[str, bytes], grid: Grid) -> Iterator[Page]:
    """A page a piece; pieces without a picture share pages, and a long text goes on."""
    waiting: list[tuple[PieceRecord, Block]] = []
    for piece in pieces(exhibition):
        record = piece.record
        words = story(record, exhibition.labels.words)
        shown = plate(record.number, pictures)
        first, rest = _first(record, words, shown, grid)
        if waiting and (shown is not None or rest or _filled(waiting) + first.height > grid.height):
            yield _shared(waiting)
            waiting = []
        if shown is None and not rest:
            waiting.append((record, first))
            continue
        yield (record.number,), record.title, first.at(MARGIN, MARGIN)
        yield from (((), "", marks) for marks in _further(rest, grid))
    if waiting:
        yield _shared(waiting)


def _filled(waiting: Sequence[tuple[PieceRecord, Block]]) -> float:
    return sum(block.height + 2 * APART for _, block in waiting)


def _shared(waiting: Sequence[tuple[PieceRecord, Block]]) -> Page:
    numbers = tuple(record.number for record, _ in waiting)
    titles = ", ".join(record.title for record, _ in waiting)
    return numbers, titles, stack([block for _, block in waiting], 2 * APART).at(MARGIN, MARGIN)


def _first(record: PieceRecord, words: str, shown: Plate | None, grid: Grid) -> tuple[Block, list[Block]]:
    """The piece's own page, and the lines of its text that go on."""
    head, known = _head(record, grid), _known(record, grid.span(5))
    lines = line_blocks(words, grid.span(7) if known.marks else grid.span(10), TEXT)
    room = grid.height - head.height - 2 * APART
    below = max(known.height, sum(line.height for line in lines))
    tall = 0.0 if shown is None else min(TALLEST, max(LEAST, room - below))
    fits = sum(1 for low in accumulate(line.height for line in lines) if low <= room - tall + 1e-6)
    text = stack(lines[:fits])
    told = beside([(0.0, known), (grid.x(5) if known.marks else 0.0, text)])
    parts = [] if shown is None else [Block(tall, (fitted(shown, grid.width, tall, words_of(record)),))]
    return stack([*parts, head, told], APART), lines[fits:]


def _further(rest: list[Block], grid: Grid) -> Iterator[tuple[Mark, ...]]:
    while rest:
        fits = max(1, sum(1 for low in accumulate(line.height for line in rest) if low <= grid.height))
        yield stack(rest[:fits]).at(MARGIN + grid.x(5), MARGIN)
        rest = rest[fits:]


def _head(record: PieceRecord, grid: Grid) -> Block:
    lines = [paragraph(record.number, grid.width, NUMBER), paragraph(record.title, grid.width, TITLE)]
    if record.pattern:
        lines.append(paragraph(record.pattern, grid.width, PATTERN))
    return stack(lines, 0.6)


def _known(record: PieceRecord, width: float) -> Block:
    """Names and values in a narrow column."""
    rows = [
        beside([(0.0, paragraph(fact.name, 18.0, NAME)), (19.0, paragraph(fact.value, width - 19.0, VALUE))])
        for fact in facts(record)
    ]
    return stack(rows, 1.0)
