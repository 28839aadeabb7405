"""A case with its balls in millimetres: where each stands, what is free between them, what does not fit.

In: an ``Exhibition``.  Out: one ``CasePlan`` a case.  A ball is the sphere of its measured circumference; a tassel, a
loop or a stand's own width is not known and not counted.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

from polestitch.document.lengths import Length
from polestitch.showing.exhibition import Case, Exhibition, ShelfSpec
from polestitch.showing.pieces import Piece, pieces

TOUCH = 1e-6  # mm


@dataclass(frozen=True)
class Ball:
    """A ball on its shelf; mm from the case's left side, from its back and above the shelf, to the ball's middle."""

    number: str
    title: str
    x: float
    back: float
    up: float
    diameter: float
    stand: float
    facing: str
    turn: str

    @property
    def radius(self) -> float:
        """Half the diameter."""
        return self.diameter / 2

    def gap_to(self, other: "Ball") -> float:
        """Free mm between the two balls; negative: they would stand in each other."""
        between = math.dist((self.x, self.back, self.up), (other.x, other.back, other.up))
        return between - self.radius - other.radius


@dataclass(frozen=True)
class Gap:
    """Free mm between neighbours, ``left`` and ``right`` being numbers, or ``side`` for the case's own side."""

    left: str
    right: str
    mm: float


@dataclass(frozen=True)
class ShelfPlan:
    """One shelf, 1 being the top one."""

    shelf: int
    clear: float
    from_floor: float | None
    balls: tuple[Ball, ...]
    gaps: tuple[Gap, ...]


@dataclass(frozen=True)
class CasePlan:
    """One case; ``unsized``: numbers of pieces placed in it whose circumference is not entered."""

    name: str
    width: float
    depth: float
    shelves: tuple[ShelfPlan, ...]
    unsized: tuple[str, ...]
    findings: tuple[str, ...]


SIDE = "side"


def case_plans(exhibition: Exhibition) -> tuple[CasePlan, ...]:
    """Every case in the show's order."""
    shown = pieces(exhibition)
    return tuple(
        _case_plan(case, [piece for piece in shown if piece.shown.case == case.name]) for case in exhibition.cases
    )


def across_mm(around: Length) -> float:
    """The diameter of a ball so far around."""
    return (around.mm or 0.0) / math.pi


def _case_plan(case: Case, placed: Sequence[Piece]) -> CasePlan:
    width, depth = case.width.mm or 0.0, case.depth.mm or 0.0
    sized = [piece for piece in placed if piece.record.around is not None]
    shelves = tuple(
        _shelf_plan(k, shelf, [piece for piece in sized if piece.shown.shelf == k], (width, depth))
        for k, shelf in enumerate(case.shelves, 1)
    )
    unsized = tuple(piece.record.number for piece in placed if piece.record.around is None)
    found = tuple(sentence for shelf in shelves for sentence in _findings(shelf, (width, depth)))
    return CasePlan(case.name, width, depth, shelves, unsized, found)


def _shelf_plan(k: int, spec: ShelfSpec, on_it: Sequence[Piece], inside: tuple[float, float]) -> ShelfPlan:
    width, depth = inside
    across = [_across(piece) for piece in on_it]
    given = [None if piece.shown.at is None else piece.shown.at.mm for piece in on_it]
    xs = spread(across, given, width)
    balls = tuple(_ball(piece, x, d, depth) for piece, x, d in zip(on_it, xs, across, strict=True))
    in_row = tuple(sorted(balls, key=lambda ball: ball.x))
    floor = spec.from_floor.mm if spec.from_floor is not None else None
    return ShelfPlan(k, spec.clear.mm or 0.0, floor, in_row, tuple(_gaps(in_row, width)))


def _across(piece: Piece) -> float:
    return across_mm(piece.record.around) if piece.record.around is not None else 0.0


def _ball(piece: Piece, x: float, across: float, depth: float) -> Ball:
    shown, stand = piece.shown, piece.shown.stand.mm or 0.0
    back = depth / 2 if shown.back is None else shown.back.mm or 0.0
    up = stand + across / 2
    return Ball(shown.number, piece.record.title, x, back, up, across, stand, shown.facing, shown.turn)


def spread(across: Sequence[float], given: Sequence[float | None], width: float) -> list[float]:
    """Middles of balls ``across`` mm on a shelf ``width`` mm wide: the given ones as given, the others with equal gaps.

    Between given balls each further one goes where most is free; the order stays the catalogue's in each stretch.
    """
    stretches = _stretches(across, given, width)
    within: list[list[int]] = [[] for _ in stretches]
    for k, at in enumerate(given):
        if at is None:
            free = [_gap(stretch, [across[i] for i in [*held, k]]) for stretch, held in zip(stretches, within)]
            within[max(range(len(free)), key=free.__getitem__)].append(k)
    xs = [0.0 if at is None else at for at in given]
    for stretch, held in zip(stretches, within):
        gap, edge = _gap(stretch, [across[k] for k in held]), stretch[0]
        for k in held:
            xs[k] = edge + gap + across[k] / 2
            edge += gap + across[k]
    return xs


def _stretches(across: Sequence[float], given: Sequence[float | None], width: float) -> list[tuple[float, float]]:
    """What is free from left to right beside the balls whose place is given."""
    fixed = sorted((at, across[k] / 2) for k, at in enumerate(given) if at is not None)
    edges = [0.0, *(edge for at, radius in fixed for edge in (at - radius, at + radius)), width]
    return [(left, right) for left, right in zip(edges[0::2], edges[1::2])]


def _gap(stretch: tuple[float, float], across: Sequence[float]) -> float:
    """What is left beside each of so many balls in a stretch."""
    return (stretch[1] - stretch[0] - sum(across)) / (len(across) + 1)


def _gaps(balls: Sequence[Ball], width: float) -> Iterator[Gap]:
    if not balls:
        return
    first, last = balls[0], balls[-1]
    yield Gap(SIDE, first.number, first.x - first.radius)
    for left, right in pairwise(balls):
        yield Gap(left.number, right.number, left.gap_to(right))
    yield Gap(last.number, SIDE, width - last.x - last.radius)


def _findings(shelf: ShelfPlan, inside: tuple[float, float]) -> Iterator[str]:
    """What cannot stand as planned, in sentences."""
    width, depth = inside
    for ball in shelf.balls:
        over = ball.stand + ball.diameter - shelf.clear
        if over > TOUCH:
            yield (
                f"{ball.number} is {over:.0f} mm too high for shelf {shelf.shelf}: with its stand it needs "
                f"{ball.stand + ball.diameter:.0f} mm, and {shelf.clear:.0f} mm are free."
            )
        yield from _beyond(ball, width, ball.x, "side", shelf.shelf)
        yield from _beyond(ball, depth, ball.back, "back or front", shelf.shelf)
    for one, other in combinations(shelf.balls, 2):
        gap = one.gap_to(other)
        if gap < -TOUCH:
            yield f"{one.number} and {other.number} on shelf {shelf.shelf} would overlap by {-gap:.0f} mm; move one."


def _beyond(ball: Ball, size: float, at: float, where: str, shelf: int) -> Iterator[str]:
    out = max(ball.radius - at, at + ball.radius - size)
    if out > TOUCH:
        yield f"{ball.number} on shelf {shelf} would stand {out:.0f} mm out of the case's {where}; move it."
