"""Object labels to cut out: a card a piece, its type as large as the reading distance asks.

In: an ``Exhibition``.  Out: PDF.  A line holds about 45 letters (45 to 50 are preferred, 55 the most: Smithsonian
Guidelines for Accessible Exhibition Design, "Label design and text").
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from polestitch.sheets.blocks import Block, Style, paragraph, stack
from polestitch.sheets.lettering import width_mm
from polestitch.sheets.pages import Grid
from polestitch.sheets.pdf import pdf
from polestitch.sheets.sheet import INK, MARGIN, QUIET, Line, Mark, Pen, Sheet, Text, paper_named
from polestitch.sheets.show.facts import Fact, facts
from polestitch.sheets.show.reading import points_for
from polestitch.showing.exhibition import Exhibition
from polestitch.showing.pieces import Piece, pieces

PADDING, CROP, GAP = 7.0, 4.0, 8.0  # mm: inside a card, a crop mark's length, between cards
LETTERS = 46
ON_LABEL = ("Made", "Size", "Division", "Threads", "Work")
CUT = Pen(QUIET, 0.15)


@dataclass(frozen=True)
class Card:
    """One label and its outer size in mm."""

    number: str
    width: float
    height: float
    words: Block


def made(exhibition: Exhibition, _pictures: Mapping[str, bytes], size: str) -> bytes:
    """Cards under one another, as many beside each other as the paper holds."""
    grid = Grid(paper_named(size))
    points = points_for(exhibition.labels.distance.mm or 600.0)
    width = card_width(points, grid)
    cards = [_card(exhibition, piece, points, width, grid) for piece in pieces(exhibition)]
    across = max(1, int((grid.width + GAP) // (width + GAP)))
    sheets = [Sheet(grid.paper, page, title) for title, page in _pages(cards, across, grid)]
    note = _note(exhibition, points, grid)
    return pdf(
        [Sheet(sheet.paper, (*sheet.marks, *note), sheet.title) for sheet in sheets], f"{exhibition.title}: labels"
    )


def card_width(points: float, grid: Grid) -> float:
    """Room for a line of so many letters, the paper's width at most."""
    letters = width_mm("n", "serif", points) * 0.85 * LETTERS  # an English letter is about 0.85 of an n wide
    return min(grid.width, letters + 2 * PADDING)


def _card(exhibition: Exhibition, piece: Piece, points: float, width: float, grid: Grid) -> Card:
    """Type shrinks only where a card would not fit on the paper, never below the least."""
    blocks = list(_words(exhibition, piece, points, width - 2 * PADDING))
    words = stack(blocks)
    if words.height + 2 * PADDING > grid.height and points > 12.0:
        return _card(exhibition, piece, points - 0.5, width, grid)
    return Card(piece.record.number, width, words.height + 2 * PADDING, words)


def _words(exhibition: Exhibition, piece: Piece, points: float, width: float) -> Iterator[Block]:
    record = piece.record
    body, quiet = Style("serif", points, points * 1.35), Style("sans", points * 0.8, points * 1.15, QUIET)
    yield paragraph(record.title, width, Style("serif bold", points * 1.4, points * 1.7))
    if record.pattern:
        yield paragraph(record.pattern, width, Style("serif italic", points, points * 1.35, QUIET))
    if record.maker:
        yield paragraph(record.maker, width, body)
    if words := label_text(exhibition, piece):
        yield from (Block(points * 0.2), paragraph(words, width, body))
    known = [fact for fact in facts(record) if fact.name in ON_LABEL]
    if exhibition.labels.prices and record.price is not None:
        yield from (Block(points * 0.2), paragraph(str(record.price), width, body))
    yield Block(points * 0.2)
    yield from (paragraph(words, width, quiet) for words in (_in_line(known), record.number) if words)


def label_text(exhibition: Exhibition, piece: Piece) -> str:
    """The text the labels are set for: nothing stands in for a plain one that is not written."""
    return piece.record.plain if exhibition.labels.words == "plain" else piece.record.text


def _in_line(known: Sequence[Fact]) -> str:
    """Facts one after another: a year needs no name, hours do."""
    said = {"Made": "{}", "Size": "{}", "Division": "division {}", "Threads": "{}", "Work": "work: {}"}
    return "; ".join(said[fact.name].format(fact.value) for fact in known)


def _pages(cards: Sequence[Card], across: int, grid: Grid) -> Iterator[tuple[str, tuple[Mark, ...]]]:
    """Rows of cards of one height each, as many rows as a page holds."""
    rows = [cards[k : k + across] for k in range(0, len(cards), across)]
    marks: list[Mark] = []
    y = 0.0
    for row in rows:
        height = max(card.height for card in row)
        if marks and y + height > grid.height:
            yield "Labels", tuple(marks)
            marks, y = [], 0.0
        for k, card in enumerate(row):
            marks += _placed(card, MARGIN + k * (card.width + GAP), MARGIN + y, height)
        y += height + GAP
    yield "Labels", tuple(marks)


def _placed(card: Card, x: float, y: float, height: float) -> list[Mark]:
    """The words, and at each corner two short lines to cut along."""
    marks: list[Mark] = [*card.words.at(x + PADDING, y + PADDING)]
    for cx, out in ((x, 1.0), (x + card.width, -1.0)):
        for cy, down in ((y, 1.0), (y + height, -1.0)):
            marks += [Line(cx, cy, cx + out * CROP, cy, CUT), Line(cx, cy, cx, cy + down * CROP, CUT)]
    return marks


def _note(exhibition: Exhibition, points: float, grid: Grid) -> tuple[Mark, ...]:
    """For who prints: how large the type is, and why."""
    words = (
        f"To be read from {exhibition.labels.distance}: type of {points:g} points. Print at 100 %, cut at the corners."
    )
    return (Text(MARGIN, grid.paper.height - MARGIN, words, "sans", 7.5, "start", INK),)
