"""What must agree between the parts of a show, and between those of a record.

In: an ``Exhibition`` or a ``PieceRecord`` whose parts are right one by one.  Out: the same, or a ``DesignError`` at
the part to change.  Only what cannot be is refused; what she may want to know is a remark.
"""

from collections.abc import Iterable
from datetime import date

from polestitch.document.lengths import Length
from polestitch.document.limits import Limits, around_mm, plain_mm
from polestitch.errors import DesignError
from polestitch.showing.exhibition import Case, Exhibition, Shown
from polestitch.showing.record import PieceRecord

# From a dolls' shelf to a shop window: common sense, no source.
CASE = Limits(50, 20_000, "80 cm")
PLACE = Limits(0, 20_000, "12 cm")
STAND = Limits(0, 3000, "15 mm")
READING = Limits(100, 20_000, "60 cm")


def checked(exhibition: Exhibition) -> Exhibition:
    """``exhibition`` itself, if its parts agree; ``DesignError`` at the first that does not."""
    _check_dates(exhibition)
    plain_mm(exhibition.labels.distance, "labels.distance", READING)
    _different((case.name for case in exhibition.cases), "cases", "name", "case")
    for k, case in enumerate(exhibition.cases):
        _check_case(case, f"cases[{k}]")
    _different((record.number for record in exhibition.records), "records", "number", "record")
    for k, record in enumerate(exhibition.records):
        checked_record(record, f"records[{k}]")
    _different((shown.number for shown in exhibition.shown), "shown", "number", "piece")
    known = {record.number for record in exhibition.records}
    cases = {case.name: case for case in exhibition.cases}
    for k, shown in enumerate(exhibition.shown):
        if shown.number not in known:
            raise DesignError(f"shown[{k}].number", f'"{shown.number}" has no record; add one, or take it out')
        _check_place(shown, cases, f"shown[{k}]")
    return exhibition


def checked_record(record: PieceRecord, where: str) -> PieceRecord:
    """``record`` itself, if its parts agree; ``where`` is its place in the document."""
    below = f"{where}." if where else ""
    if record.number != " ".join(record.number.split()):
        raise DesignError(
            f"{below}number", f'"{record.number}" has spaces too many; write it on one line, such as "HL-03"'
        )
    if record.around is not None:
        around_mm(record.around, f"{below}around")
    _in_order(record.begun, record.finished, f"{below}finished", "is before begun; write the later day here")
    _in_order(record.place.since, record.place.until, f"{below}place.until", "is before since; write a later day here")
    return record


def _check_dates(exhibition: Exhibition) -> None:
    closing = "is before opens; write the last day of the show here"
    _in_order(exhibition.opens, exhibition.closes, "closes", closing)
    collecting = "is before delivery; write the day the pieces are fetched here"
    _in_order(exhibition.delivery, exhibition.collection, "collection", collecting)


def _in_order(first: date | None, then: date | None, where: str, what: str) -> None:
    if first is not None and then is not None and then < first:
        raise DesignError(where, f"{then.isoformat()} {what}")


def _check_case(case: Case, where: str) -> None:
    plain_mm(case.width, f"{where}.width", CASE)
    plain_mm(case.depth, f"{where}.depth", CASE)
    for k, shelf in enumerate(case.shelves):
        plain_mm(shelf.clear, f"{where}.shelves[{k}].clear", CASE)
        _check_length(shelf.from_floor, f"{where}.shelves[{k}].from_floor", PLACE)


def _check_place(shown: Shown, cases: dict[str, Case], where: str) -> None:
    plain_mm(shown.stand, f"{where}.stand", STAND)
    _check_length(shown.at, f"{where}.at", PLACE)
    _check_length(shown.back, f"{where}.back", PLACE)
    if not shown.case:
        return
    if shown.case not in cases:
        names = ", ".join(f'"{name}"' for name in cases) or "none yet"
        raise DesignError(f"{where}.case", f'"{shown.case}" is no case of this show; it has {names}')
    shelves = len(cases[shown.case].shelves)
    if shown.shelf > shelves:
        raise DesignError(
            f"{where}.shelf",
            f'{shown.shelf} is more than "{shown.case}" has; its shelves are 1 to {shelves}, from the top',
        )


def _check_length(length: Length | None, where: str, allowed: Limits) -> None:
    if length is not None:
        plain_mm(length, where, allowed)


def _different(names: Iterable[str], where: str, field: str, noun: str) -> None:
    seen: dict[str, int] = {}
    for k, name in enumerate(names):
        if name in seen:
            raise DesignError(
                f"{where}[{k}].{field}",
                f'"{name}" is also {where}[{seen[name]}]; each {noun} needs its own {field}, once',
            )
        seen[name] = k
