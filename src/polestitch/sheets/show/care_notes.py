"""Care notes for who looks after the show: light and its sum, pests, hands, pins and small parts.

In: an ``Exhibition``.  Out: PDF.  Sources stand on the paper; where they contradict each other, it says so.
"""

from collections.abc import Iterator, Mapping

from polestitch.document.said import in_short
from polestitch.sheets.blocks import Block, paragraph, space
from polestitch.sheets.pages import CELL, Column, Grid, table
from polestitch.sheets.sheet import paper_named
from polestitch.sheets.show.listing import NOTE, NUMBER, PLAIN, STRONG, listed_pdf, subhead
from polestitch.showing.exhibition import Exhibition
from polestitch.showing.light import TEXTILES_LUX, Dose, days_open, dose
from polestitch.showing.pieces import pieces

LIGHT = (
    f"Keep the light on the pieces at {TEXTILES_LUX:g} lux or less, and ultraviolet at 75 microwatts a lumen or less. "
    "No light does no harm: what counts is lux times hours. Switch it off when nobody looks; no sunlight at any time.",
)
LIGHT_SOURCES = (
    "50 lux for textiles: conservationanswers.net, What light levels are recommended? Ultraviolet: a sheet of the "
    "Texas Association of Museums. Lux times hours: ERCO, Illumination of light-sensitive exhibits. Published "
    "limits for a year contradict each other, so none is given here; ask a conservator for one."
)
PESTS = (
    "Look for holes, dust, webs and larvae when a piece arrives and when it leaves. Keep a piece with signs of insects "
    "apart, in a closed bag, and ask a conservator.",
    "Freezing is for fully dried pieces only: hulls, seeds and herbs that hold moisture must not be frozen. A piece to "
    "be frozen lies in sealed polythene with the air pressed out, in a freezer that does not defrost itself, and stays "
    "sealed until it is as warm as the room.",
    "How long differs from source to source: at -20 °C six to ten days, or a week and more, or two times 48 hours. "
    "Take the longest you can, or ask a conservator. A ball with glued or heated parts is not frozen without asking.",
)
PEST_SOURCES = (
    "Dry before freezing: museumpests.net fact sheet. Times: Strang 1992, quoted in the US National Park Service's "
    "Conserve O Gram 3/6 (1994), and brochures of museums. Glued parts: common practice, no source."
)
HANDS = (
    "Clean, dry hands or gloves. Both hands under the ball; never by its tassel, its cord or a thread.",
    "A ball stands in a ring or on a stand, so that it cannot roll. Turn it by lifting it.",
)
HANDS_SOURCES = "Common practice, no source; darkening of balls by handling is told by a dealer in old ones."
SAFETY = (
    "A needle or pin left in a ball stays sharp and cannot be seen. Count pins and needles before and after any work "
    "on a piece.",
    "Pins, beads, bells and wire can come off. A ball of a show is no toy: keep it from small children, and follow "
    "the toy-safety and exhibition rules of your country before anyone may play with one.",
)
LAST = "The venue's rules and a conservator's word come before this paper."


def made(exhibition: Exhibition, _pictures: Mapping[str, bytes], size: str) -> bytes:
    """The whole paper."""
    grid = Grid(paper_named(size))
    blocks = [
        *_part("Light", (*LIGHT, *_light(exhibition)), LIGHT_SOURCES, grid),
        *_part("Insects and freezing", (*PESTS, *_inside(exhibition)), PEST_SOURCES, grid),
        *_part("Hands", HANDS, HANDS_SOURCES, grid),
        *_part("Pins, needles and small parts", SAFETY, "", grid),
        *_each(exhibition, grid),
        paragraph(LAST, grid.span(10), STRONG),
    ]
    return listed_pdf("Care", exhibition, blocks, grid)


def _part(name: str, words: tuple[str, ...], sources: str, grid: Grid) -> Iterator[Block]:
    yield subhead(name, grid)
    for sentence in words:
        told = paragraph(sentence, grid.span(10), PLAIN)
        yield Block(told.height + 1.6, told.marks)
    if sources:
        yield paragraph(sources, grid.span(10), NOTE)
    yield space(5.0)


def _light(exhibition: Exhibition) -> Iterator[str]:
    """What is entered of the light, and the sum where all of it is."""
    total = dose(exhibition)
    if total is not None:
        yield dose_words(total)
        return
    if exhibition.lux is not None:
        yield f"Measured on the pieces: {exhibition.lux:g} lux."
    if exhibition.hours_a_day is not None:
        yield f"The light is on {exhibition.hours_a_day:g} hours a day."
    if (exhibition.lux or exhibition.hours_a_day) and (days := days_open(exhibition)):
        yield f"The show lasts {days} day{'' if days == 1 else 's'}, first and last counted."


def dose_words(total: Dose) -> str:
    """The sum of light in a sentence."""
    return (
        f"In this show: {total.lux:g} lux for {total.hours_a_day:g} hours a day on {total.days} days, first and last "
        f"and any closed days counted, is {total.lux_hours:,.0f} lux hours."
    )


def _inside(exhibition: Exhibition) -> Iterator[str]:
    """What is written down of the cores, each once with its pieces."""
    cores: dict[str, list[str]] = {}
    for piece in pieces(exhibition):
        if piece.record.core:
            cores.setdefault(piece.record.core, []).append(piece.record.number)
    if cores:
        told = "; ".join(f"{core} ({in_short(numbers)})" for core, numbers in cores.items())
        yield f"Inside these pieces: {told}."


def _each(exhibition: Exhibition, grid: Grid) -> Iterator[Block]:
    """What is written down for single pieces."""
    rows = [
        (record.number, record.title, words)
        for record in (piece.record for piece in pieces(exhibition))
        if (words := _words(record.care, record.small_parts))
    ]
    if not rows:
        return
    columns = (
        Column("No.", 0.0, grid.span(2), NUMBER),
        Column("Title", grid.x(2), grid.span(3), CELL),
        Column("Written down for it", grid.x(5), grid.span(7), CELL),
    )
    yield from (subhead("Piece by piece", grid), *table(columns, rows, grid.width), space(5.0))


def _words(care: str, small_parts: str) -> str:
    named = (("", care), ("Small parts: ", small_parts))
    return "\n".join(f"{name}{value}" for name, value in named if value)
