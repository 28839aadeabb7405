"""A show as plain data that other programs may build on: what ``show --json`` prints.

In: a checked ``Exhibition``.  Out: a dict of numbers, words and lists; lengths in mm.  ``docs/json.md`` says what
each key means.
"""

from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from polestitch.document.money import Money
from polestitch.showing.caseplan import Ball, CasePlan, ShelfPlan, across_mm, case_plans
from polestitch.showing.exhibition import Exhibition
from polestitch.showing.light import days_open, dose
from polestitch.showing.pieces import Piece, pieces, sums
from polestitch.showing.remarks import remarks


def show_json(exhibition: Exhibition) -> dict[str, Any]:
    """Everything of one show."""
    shown = pieces(exhibition)
    prices = sums(piece.record.price for piece in shown)
    return {
        "title": exhibition.title,
        "opens": _day(exhibition.opens),
        "closes": _day(exhibition.closes),
        "days": days_open(exhibition),
        "pieces": [_piece(piece) for piece in shown],
        "cases": [_case(plan) for plan in case_plans(exhibition)],
        "light": _light(exhibition),
        "prices": [str(total) for total in prices],
        "after_commission": [str(total) for total in kept(prices, exhibition.commission_percent)],
        "insured": [str(total) for total in sums(piece.record.insured for piece in shown)],
        "remarks": remarks(exhibition),
    }


def kept(prices: Iterable[Money], commission_percent: float) -> list[Money]:
    """What is left of each sum once the venue has kept its share."""
    share = (100 - Decimal(str(commission_percent))) / 100
    return [Money.of(price.amount * share, price.currency) for price in prices]


def _day(on: Any) -> str | None:
    return None if on is None else str(on.isoformat())


def _piece(piece: Piece) -> dict[str, Any]:
    record, shown = piece.record, piece.shown
    around = record.around
    return {
        "number": record.number,
        "title": record.title,
        "pattern": record.pattern,
        "case": shown.case,
        "shelf": shown.shelf if shown.case else None,
        "around_mm": None if around is None else _mm(around.mm or 0.0),
        "across_mm": None if around is None else _mm(across_mm(around)),
        "price": None if record.price is None else str(record.price),
        "insured": None if record.insured is None else str(record.insured),
    }


def _case(plan: CasePlan) -> dict[str, Any]:
    return {
        "name": plan.name,
        "width_mm": _mm(plan.width),
        "depth_mm": _mm(plan.depth),
        "shelves": [_shelf(shelf) for shelf in plan.shelves],
        "unsized": list(plan.unsized),
        "findings": list(plan.findings),
    }


def _shelf(shelf: ShelfPlan) -> dict[str, Any]:
    return {
        "shelf": shelf.shelf,
        "clear_mm": _mm(shelf.clear),
        "balls": [_ball(shelf, ball) for ball in shelf.balls],
        "gaps": [{"left": gap.left, "right": gap.right, "mm": _mm(gap.mm)} for gap in shelf.gaps],
    }


def _ball(shelf: ShelfPlan, ball: Ball) -> dict[str, Any]:
    floor = None if shelf.from_floor is None else _mm(shelf.from_floor + ball.up)
    return {
        "number": ball.number,
        "left_mm": _mm(ball.x),
        "back_mm": _mm(ball.back),
        "floor_mm": floor,
        "stand_mm": _mm(ball.stand),
    }


def _light(exhibition: Exhibition) -> dict[str, float] | None:
    total = dose(exhibition)
    if total is None:
        return None
    return {
        "lux": total.lux,
        "hours_a_day": total.hours_a_day,
        "days": total.days,
        "lux_hours": round(total.lux_hours, 1),
    }


def _mm(mm: float) -> float:
    return round(mm, 3)
