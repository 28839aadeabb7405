"""The loan form: who lends what to whom, from when to when, for how much insured, and how it is handled.

In: an ``Exhibition``.  Out: PDF.  What is not entered is a line to write on.
"""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date

from polestitch.sheets.blocks import Block, beside, paragraph, space, stack
from polestitch.sheets.pages import GUTTER, Grid
from polestitch.sheets.sheet import QUIET, Line, Pen, paper_named
from polestitch.sheets.show.dates import day
from polestitch.sheets.show.insurance_list import insured_table, missing
from polestitch.sheets.show.listing import PLAIN, STRONG, kept, listed_pdf, notes, signatures, subhead
from polestitch.sheets.show.setting import line_blocks
from polestitch.showing.exhibition import Exhibition, Person
from polestitch.showing.pieces import pieces

HANDLING = (
    "Clean, dry hands or gloves; both hands under the ball, never by its tassel, cord or threads.",
    "No sun, damp or dust on the pieces; no food or drink beside them.",
    "Nothing is pinned, glued, washed or mended without the lender's word.",
    "Damage is written down with its day, and the lender is told at once.",
)
NO_ADVICE = (
    "This form is no legal advice. Check it with your insurer and with someone who knows the law where you are, "
    "and follow the venue's own rules."
)
HANDLED = "The handling notes are common practice, no source."


def made(exhibition: Exhibition, _pictures: Mapping[str, bytes], size: str) -> bytes:
    """The whole form."""
    grid = Grid(paper_named(size))
    shown = pieces(exhibition)
    blocks = [
        _parties(exhibition, grid),
        space(5.0),
        *_days(exhibition, grid),
        space(6.0),
        subhead("The pieces", grid),
        *insured_table(shown, grid),
        *notes(missing(shown), grid),
        space(6.0),
        *_conditions(exhibition, grid),
        # What is signed stands over the signatures: handling never parts from them.
        *kept(_handling(exhibition, grid)),
        *kept(notes((HANDLED, NO_ADVICE), grid)),
        signatures(("Lender", "Borrower"), grid),
    ]
    return listed_pdf("Loan of pieces", exhibition, blocks, grid)


def _parties(exhibition: Exhibition, grid: Grid) -> Block:
    half = (grid.width - 2 * GUTTER) / 2
    lender, borrower = (
        _party(name, person, half)
        for name, person in (("Lender", exhibition.lender), ("Borrower", exhibition.borrower))
    )
    return beside([(0.0, lender), (half + 2 * GUTTER, borrower)])


def _party(name: str, person: Person, width: float) -> Block:
    """Name and address, or lines to write them on."""
    lines = [line for line in (person.name, *person.contact.splitlines()) if line.strip()]
    told = [paragraph(line, width, PLAIN) for line in lines]
    return stack([paragraph(name, width, STRONG), *told, *([_blank(width)] * max(0, 3 - len(lines)))])


def _blank(width: float) -> Block:
    return Block(8.0, (Line(0.0, 7.0, width, 7.0, Pen(QUIET, 0.15)),))


def _days(exhibition: Exhibition, grid: Grid) -> Iterator[Block]:
    """Four days beside each other."""
    days: Sequence[tuple[str, date | None]] = (
        ("Delivery", exhibition.delivery),
        ("Opens", exhibition.opens),
        ("Closes", exhibition.closes),
        ("Collection", exhibition.collection),
    )
    width = grid.span(3)
    yield beside(
        [
            (
                grid.x(3 * k),
                stack([paragraph(name, width, STRONG), paragraph(day(on), width, PLAIN) if on else _blank(width)]),
            )
            for k, (name, on) in enumerate(days)
        ]
    )


def _conditions(exhibition: Exhibition, grid: Grid) -> Iterator[Block]:
    yield subhead("Transport", grid)
    if exhibition.transport:
        yield from line_blocks(exhibition.transport, grid.span(10), PLAIN)
    else:
        yield from (_blank(grid.width), _blank(grid.width))
    yield space(4.0)
    if agreed := [*_agreed(exhibition)]:
        yield subhead("As agreed", grid)
        yield from (paragraph(words, grid.span(10), PLAIN) for words in agreed)
        yield space(4.0)


def _handling(exhibition: Exhibition, grid: Grid) -> Iterator[Block]:
    yield subhead("Handling", grid)
    yield from (paragraph(words, grid.span(10), PLAIN) for words in HANDLING)
    small = [
        f"{piece.record.number}: {piece.record.small_parts}" for piece in pieces(exhibition) if piece.record.small_parts
    ]
    if small:
        yield paragraph(f"Small parts, to be kept from small children: {'; '.join(small)}", grid.span(10), PLAIN)


def _agreed(exhibition: Exhibition) -> Iterator[str]:
    if exhibition.lux is not None:
        yield f"Light on the pieces: {exhibition.lux:g} lux."
    if exhibition.hours_a_day is not None:
        yield f"The light is on {exhibition.hours_a_day:g} hours a day."
    if exhibition.commission_percent:
        yield f"The venue keeps {exhibition.commission_percent:g} % of a sale."
    if exhibition.handling_fee is not None:
        yield f"The venue charges {exhibition.handling_fee} a piece."
