"""The pieces of a show in catalogue order, each with its record.

In: an ``Exhibition``.  Out: ``Piece``s.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from polestitch.document.money import Money
from polestitch.showing.exhibition import Exhibition, Shown
from polestitch.showing.record import PieceRecord


@dataclass(frozen=True)
class Piece:
    """One piece as it is shown."""

    shown: Shown
    record: PieceRecord


def pieces(exhibition: Exhibition) -> tuple[Piece, ...]:
    """In catalogue order; the show is checked, so every number has its record."""
    records = {record.number: record for record in exhibition.records}
    return tuple(Piece(shown, records[shown.number]) for shown in exhibition.shown)


def sums(amounts: Iterable[Money | None]) -> tuple[Money, ...]:
    """One total a currency, in order of their letters; two currencies are never added."""
    totals: dict[str, Money] = {}
    for amount in amounts:
        if amount is not None:
            had = totals.get(amount.currency)
            totals[amount.currency] = amount if had is None else had + amount
    return tuple(totals[currency] for currency in sorted(totals))
