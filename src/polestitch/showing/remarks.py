"""What a maker may want to know of her show before it is printed: nothing here stops her.

In: a checked ``Exhibition``.  Out: sentences, each with the piece's number.

At most 75 to 100 words a label: Smithsonian Guidelines for Accessible Exhibition Design, part "Label design and text".
"""

from collections.abc import Callable, Iterator

from polestitch.document.said import listed
from polestitch.showing.caseplan import case_plans
from polestitch.showing.exhibition import Exhibition
from polestitch.showing.light import TEXTILES_LUX
from polestitch.showing.pieces import Piece, pieces, sums

MOST_WORDS = 100


def remarks(exhibition: Exhibition) -> list[str]:
    """Sentences in the order of the document."""
    parts = (_dates, _placing, _labels, _money, _whereabouts, _pictures, _light)
    return [sentence for part in parts for sentence in part(exhibition)]


def _named(exhibition: Exhibition, lacks: Callable[[Piece], bool]) -> str:
    """Numbers of the shown pieces of which ``lacks`` holds, as words; empty: none."""
    return listed([piece.record.number for piece in pieces(exhibition) if lacks(piece)])


def _dates(exhibition: Exhibition) -> Iterator[str]:
    if exhibition.delivery and exhibition.opens and exhibition.delivery > exhibition.opens:
        yield "The pieces are delivered after the show opens."
    if exhibition.collection and exhibition.closes and exhibition.collection < exhibition.closes:
        yield "The pieces are collected before the show closes."


def _placing(exhibition: Exhibition) -> Iterator[str]:
    numbers = {shown.number for shown in exhibition.shown}
    apart = listed([record.number for record in exhibition.records if record.number not in numbers])
    if apart:
        yield f"Not in the show, though recorded: {apart}."
    if exhibition.cases and (names := _named(exhibition, lambda piece: not piece.shown.case)):
        yield f"Not placed in a case yet: {names}."
    if names := _named(exhibition, lambda piece: bool(piece.shown.case) and piece.record.around is None):
        yield f"Without a circumference, so not drawn in the case plan: {names}."
    for plan in case_plans(exhibition):
        yield from (f"{plan.name}: {sentence}" for sentence in plan.findings)


def _labels(exhibition: Exhibition) -> Iterator[str]:
    labels = exhibition.labels
    if labels.prices and (names := _named(exhibition, lambda piece: piece.record.price is None)):
        yield f"Labels carry prices, and these have none: {names}."
    if labels.words == "plain" and (names := _named(exhibition, lambda piece: not piece.record.plain)):
        yield f"Labels carry plain language, and these have none: {names}."
    for piece in pieces(exhibition):
        words = len((piece.record.plain if labels.words == "plain" else piece.record.text).split())
        if words > MOST_WORDS:
            yield f"{piece.record.number} says {words} words on its label; visitors read 75 to 100 at most."


def _money(exhibition: Exhibition) -> Iterator[str]:
    shown = pieces(exhibition)
    for name, amounts in (
        ("Prices", [piece.record.price for piece in shown]),
        ("Insurance values", [piece.record.insured for piece in shown]),
    ):
        totals = [total.currency for total in sums(amounts)]
        if len(totals) > 1:
            yield f"{name} are in {listed(totals)}; each currency has a sum of its own."
    some = any(piece.record.insured for piece in shown)
    if some and (names := _named(exhibition, lambda piece: piece.record.insured is None)):
        yield f"Without an insurance value: {names}."


def _whereabouts(exhibition: Exhibition) -> Iterator[str]:
    for piece in pieces(exhibition):
        place = piece.record.place
        if place.where in ("sold", "given", "lent", "away"):
            yield f"{piece.record.number} is written down as {place.where}; ask who has it before you promise it."


def _pictures(exhibition: Exhibition) -> Iterator[str]:
    def without(piece: Piece) -> bool:
        return any(not photo.words for photo in piece.record.photos)

    if names := _named(exhibition, without):
        yield f"A photograph has no words for who cannot see it: {names}."


def _light(exhibition: Exhibition) -> Iterator[str]:
    if exhibition.lux is not None and exhibition.lux > TEXTILES_LUX:
        yield (
            f"{exhibition.lux:g} lux are on the pieces; for textiles {TEXTILES_LUX:g} lux are recommended. "
            "Ask whether the light can be dimmed."
        )
