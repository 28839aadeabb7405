"""Seats: where on the ball the motifs of a layer sit, each with its site and the frame between them.

In: a layer's ``where`` and ``start``, the marking, the ball and the maker's settings.
Out: ``Seat`` records, one for each motif.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from polestitch.ball.ball import Ball
from polestitch.document.design import Layer, Maker
from polestitch.errors import DesignError
from polestitch.marking.address import Place, address
from polestitch.marking.arcs import Arc, arcs
from polestitch.marking.circles import Circle, circles
from polestitch.marking.marking import Marking
from polestitch.marking.where import places
from polestitch.sphere.arcs import Points, cross, move
from polestitch.stitching.site import Kind, Site
from polestitch.stitching.turns import like_places, turns

_SAME = 1e-9
_WHOLE_BALL = {"ball", "the ball", "whole ball", "the whole ball"}
_START = re.compile(r"\s*(?:(?:line|spoke|obi)\s*)?(\d{1,3})\s*")


@dataclass(frozen=True, eq=False)
class Seat:
    """One place for one motif.

    ``frame`` (3, 3) takes vectors of the site's frame to the ball; columns are its axes, and its
    determinant is -1 for mirrored work.  ``lines`` names the guidelines by their numbers in the site.
    """

    name: str
    site: Site
    frame: Points
    lines: dict[int, str]

    @property
    def middle(self) -> Points:
        """(3,) the seat's middle on the ball; for a circle its own pole."""
        return np.asarray(self.frame[:, 2])

    @property
    def likeness(self) -> bytes:
        """Equal for seats whose sites cannot be told apart, numbers of the guidelines included."""
        sizes = np.round(np.concatenate([self.site.azimuths, self.site.reaches]), 9) + 0.0
        return sizes.tobytes() + repr(self.site.numbers).encode()


class Ways(NamedTuple):
    """Guidelines round a middle, as the marking numbers them."""

    azimuths: NDArray[np.float64]  # (w,) counter-clockwise from the x axis
    reaches: NDArray[np.float64]  # (w,)
    numbers: tuple[int, ...]


def seats(kind: Kind, layer: Layer, marking: Marking, ball: Ball, maker: Maker) -> tuple[Seat, ...]:
    """All seats the layer names; ``DesignError`` at ``where`` or ``start`` for a place that is not there."""
    mirrored = (maker.hand == "left") != (layer.direction == "left")
    find = {"centre": _centres, "arc": _arcs, "circle": _circles, "poles": _poles, "ball": _ball}[kind]
    found = [_seat(kind, one, (ball, maker), mirrored) for one in find(layer, marking, ball)]
    return tuple(_roaming(seat, marking) for seat in found) if kind == "ball" else tuple(found)


class _Found(NamedTuple):
    """A place in its own frame, before the maker's hand is known."""

    name: str
    x: Points
    z: Points
    ways: Ways
    lines: dict[int, str]


def _seat(kind: Kind, found: _Found, hands: tuple[Ball, Maker], mirrored: bool) -> Seat:
    ball, maker = hands
    ways = _mirrored(found.ways) if mirrored else found.ways
    y = cross(found.z, found.x)
    stretch, bite = maker.own_step.mm, maker.own_bite.mm
    if stretch is None or bite is None:
        raise DesignError("maker", 'stretch and bite must be lengths with a unit, such as "2 mm"')
    site = Site(kind, ball, ways.azimuths, ways.reaches, ways.numbers, ball.angle(stretch), ball.angle(bite) / 2)
    return Seat(found.name, site, np.stack([found.x, -y if mirrored else y, found.z], axis=1), found.lines)


def _mirrored(ways: Ways) -> Ways:
    """The same guidelines met in the other direction, still beginning with the first."""
    order = np.concatenate([[0], np.arange(len(ways.numbers) - 1, 0, -1)]) if ways.numbers else np.zeros(0, dtype=int)
    azimuths = np.mod(-ways.azimuths[order], 2 * np.pi)
    return Ways(azimuths, ways.reaches[order], tuple(ways.numbers[k] for k in order))


def _begun(start: str, names: Sequence[str], numbers: Sequence[int]) -> int:
    """Index of the guideline a row starts on; ``start`` is "line 3", a name, or a number."""
    lowered = [name.lower() for name in names]
    if start.strip().lower() in lowered:
        return lowered.index(start.strip().lower())
    match = _START.fullmatch(start.lower())
    if match is None or int(match[1]) not in numbers:
        known = f"line {min(numbers)} to line {max(numbers)}" if numbers else "no lines here"
        raise DesignError("start", f'"{start}" is not one of the lines at this place; there are {known}')
    return list(numbers).index(int(match[1]))


def _turned(ways: Ways, first: int) -> Ways:
    """The same guidelines counted from index ``first``, whose azimuth becomes zero."""
    azimuths = np.mod(np.roll(ways.azimuths, -first) - ways.azimuths[first], 2 * np.pi)
    numbers = ways.numbers[first:] + ways.numbers[:first]
    return Ways(azimuths, np.roll(ways.reaches, -first), numbers)


def _centres(layer: Layer, marking: Marking, ball: Ball) -> list[_Found]:
    return [_centre(place, layer.start) for place in places(marking, layer.where, ball)]


def _centre(place: Place, start: str) -> _Found:
    if len(place.spokes) < 3:
        raise DesignError("where", f"{place.name} has too few lines to work a motif round it")
    x0 = place.spokes[0].direction
    y0 = cross(place.at, x0)
    around = [float(np.arctan2(s.direction @ y0, s.direction @ x0)) % (2 * np.pi) for s in place.spokes]
    around = [0.0 if 2 * np.pi - angle < 1e-9 else angle for angle in around]
    order = np.argsort(around)
    ways = Ways(
        np.array(around)[order],
        np.array([spoke.reach for spoke in place.spokes])[order],
        tuple(place.spokes[k].number for k in order),
    )
    names = {spoke.number: spoke.name for spoke in place.spokes}
    first = _begun(start, [names[number] for number in ways.numbers], ways.numbers)
    x = place.spokes[int(order[first])].direction
    return _Found(place.name, x, place.at, _turned(ways, first), names)


def _poles(layer: Layer, marking: Marking, ball: Ball) -> list[_Found]:
    """Each place with the one opposite to it; all guidelines through one lead to the other."""
    found = _centres(layer, marking, ball)
    for k, one in enumerate(found):
        for other in found[:k]:
            if one.z @ other.z < -1 + _SAME:
                raise DesignError("where", f"{one.name} lies opposite {other.name}; name one of the two, it means both")
    quarters = [np.full(len(one.ways.numbers), np.pi / 2) for one in found]
    return [one._replace(ways=one.ways._replace(reaches=reaches)) for one, reaches in zip(found, quarters)]


def _ball(layer: Layer, marking: Marking, ball: Ball) -> list[_Found]:
    """The ball as it is, or turned so that what is worked at the first place is worked at each."""
    spokes = marking.spokes["N"]
    azimuths = np.array([float(np.arctan2(spoke.direction[1], spoke.direction[0])) for spoke in spokes])
    order = np.argsort(np.where(azimuths < -_SAME, azimuths + 2 * np.pi, np.maximum(azimuths, 0.0)))
    ways = Ways(
        np.mod(azimuths[order], 2 * np.pi),
        np.array([spokes[k].reach for k in order]),
        tuple(spokes[k].number for k in order),
    )
    names = {spoke.number: spoke.name for spoke in spokes}
    return [_Found(name, turn[:, 0], turn[:, 2], ways, names) for name, turn in _turned_balls(layer, marking, ball)]


def every_turn(layer: Layer) -> bool:
    """Whether the layer asks for every turn of the ball."""
    return isinstance(layer.where, str) and layer.where.strip().lower() in {"every turn", "all turns"}


def _turned_balls(layer: Layer, marking: Marking, ball: Ball) -> list[tuple[str, Points]]:
    words = layer.where.strip().lower() if isinstance(layer.where, str) else ""
    if words in _WHOLE_BALL:
        return [("the whole ball", np.eye(3))]
    if every_turn(layer):
        return [(f"turn {k}", turn) for k, turn in enumerate(turns(marking), 1)]
    found = places(marking, layer.where, ball)
    return [(place.name, turn) for place, turn in zip(found, like_places(marking, found))]


class _Spots(Mapping[str, Points]):
    """The marked points by name, and any other spot by its address, as seen in a frame."""

    def __init__(self, marking: Marking, ball: Ball, frame: Points) -> None:
        self._marking, self._ball, self._frame = marking, ball, frame

    def __getitem__(self, text: str) -> Points:
        known = self._marking.by_name.get(text)
        at = known.at if known else address(self._marking, text, self._ball, "params").at
        return np.asarray(at @ self._frame)

    def __iter__(self) -> Iterator[str]:
        return iter(self._marking.by_name)

    def __len__(self) -> int:
        return len(self._marking.by_name)


def _roaming(seat: Seat, marking: Marking) -> Seat:
    """The seat with the spots of the ball as it is before it is turned, mirrored where the work is."""
    mirrored = bool(np.linalg.det(seat.frame) < 0)
    upright = np.diag([1.0, -1.0 if mirrored else 1.0, 1.0])
    spots = _Spots(marking, seat.site.ball, upright)
    return replace(seat, site=replace(seat.site, points=spots, faces=_faces(marking), mirrored=mirrored))


def _faces(marking: Marking) -> dict[str, tuple[str, ...]]:
    """The corners of every face of a multi-face marking, all by name."""
    if marking.net is None:
        return {}
    found: dict[str, list[str]] = {face.name: [] for face in marking.net.faces}
    for corner, meeting in zip(marking.net.corners, marking.net.meeting.tolist()):
        for face in meeting:
            found[marking.net.faces[face].name].append(corner.name)
    return {name: tuple(corners) for name, corners in found.items()}


def _arcs(layer: Layer, marking: Marking, _ball: Ball) -> list[_Found]:
    return [_arc(arc) for arc in arcs(marking, layer.where)]


def _arc(arc: Arc) -> _Found:
    middle = move(arc.start.at, arc.direction, arc.reach / 2)
    back = -move(arc.direction, -arc.start.at, arc.reach / 2)
    ways = Ways(np.array([0.0, np.pi]), np.full(2, arc.reach / 2), (1, 2))
    return _Found(arc.name, back, middle, ways, {1: arc.start.name, 2: arc.end.name})


def _circles(layer: Layer, marking: Marking, _ball: Ball) -> list[_Found]:
    return [_circle(circle, layer.start) for circle in circles(marking, layer.where)]


def _circle(circle: Circle, start: str) -> _Found:
    azimuths = np.array([stop.azimuth for stop in circle.stops])
    ways = Ways(azimuths, np.full(len(azimuths), np.pi / 2), tuple(range(1, len(azimuths) + 1)))
    names = {k: stop.name for k, stop in enumerate(circle.stops, 1)}
    first = _begun(start, list(names.values()), ways.numbers) if azimuths.size else 0
    if not azimuths.size:
        return _Found(circle.name, circle.start, circle.normal, ways, names)
    angle = azimuths[first]
    x = np.cos(angle) * circle.start + np.sin(angle) * cross(circle.normal, circle.start)
    return _Found(circle.name, x, circle.normal, _turned(ways, first), names)
