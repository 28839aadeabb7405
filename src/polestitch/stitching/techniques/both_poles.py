"""Both poles at once (jyouge douji): bites near one pole and the other by turns, none at the equator.

The thread crosses the equator between a pair of keeper pins on the line half way to the next bite,
where the bundles are tied or covered later.  Every second line carries bites: an odd number of them
brings the thread home after two laps, with a bite at both poles on every line; of an even number a
second thread, begun at the other pole, takes the other half.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Annotated, Literal

import numpy as np
from numpy.typing import NDArray
from pydantic import BaseModel, Field

from polestitch.document.lengths import Length
from polestitch.errors import DesignError
from polestitch.sphere.arcs import Points
from polestitch.stitching.moves import Corners, Floats, ducking, growing
from polestitch.stitching.site import Site
from polestitch.stitching.stitches import Row

Lines = NDArray[np.int_]
_LEAST = 1e-9
PLACE = "poles"
HOW = (
    "At the equator set a pair of keeper pins on each line you cross on, one just either side of where the bundle "
    "will lie, one a little higher than the other. Take no bite there: the thread only passes between the pins.",
    "Never turn the ball upside down: for the bites at the far pole tip it toward you, and keep the same side up.",
    "When all rows are in, tie each bundle with a few small stitches, or cover it with a band. Only then take out "
    "the keeper pins.",
)
EXAMPLE = {"division": "S10", "where": "N", "rows": "2 navy, 1 white, 2 navy", "params": {}}


class Params(BaseModel, frozen=True, extra="forbid"):
    """Which lines carry bites, where the first ones stand, and what kind they are."""

    inner: Annotated[Length, Field(description="First bites, from their pole")] = Length("8 mm")
    lines: Annotated[
        Literal["every second", "every"],
        Field(description="Lines with bites; on every: keeper pins stand half way between the lines"),
    ] = "every second"
    set: Annotated[int, Field(ge=1, le=2, description="1: bites on the start line; 2: one line further")] = 1
    bite: Annotated[
        Literal["uwagake", "shitagake", "plain"],
        Field(description="uwagake: over and round earlier legs; shitagake: under them; plain: beside them"),
    ] = "uwagake"
    bundle: Annotated[Length, Field(description="Room between the two keeper pins, through which all rows pass")] = (
        Length("6 mm")
    )


def stitch(site: Site, params: Params, pitches: Iterable[float]) -> Iterator[Row]:
    """Rows of bites near both poles; two rows for each pitch where the lines with bites are even in number."""
    every = 1 if params.lines == "every" else 2
    if site.ways % every:
        words = f'"every second" means that 2 divides the {site.ways} lines here; write "every"'
        raise DesignError("params.lines", words)
    index = np.arange(0, site.ways, every) + (params.set - 1 if every == 2 else 0)
    widths = list(pitches)
    starts = (0,) if len(index) % 2 else (0, 1)
    strands = [_strand(site, params, index, begins, widths) for begins in starts]
    for k, rows in enumerate(zip(*strands)):
        for strand, row in enumerate(rows):
            yield replace(row, number=k * len(rows) + strand + 1, strand=strand)


def _strand(site: Site, params: Params, index: Lines, begins: int, widths: list[float]) -> Iterator[Row]:
    """One thread's rows; ``begins`` is 0 at the first pole, 1 at the other."""
    count = len(index) * (2 if len(index) % 2 else 1)
    lines = index[np.arange(count) % len(index)]
    south = (np.arange(count) + begins) % 2 == 1
    near = np.array([site.distance(params.inner, int(k), "params.inner") for k in lines])
    corners = Corners(
        azimuth=site.azimuths[lines],
        distance=np.where(south, np.pi - near, near),
        spokes=tuple(site.numbers[k] for k in lines),
        laps=count // len(index),
        way=np.where(south, -1.0, 1.0),
        wide=np.full(count, params.bite == "uwagake"),
    )
    middles = _half_way(site.azimuths, lines)
    asides = _asides(widths, site.width(params.bundle, "params.bundle"))
    for row, aside in zip(growing(corners, widths, site), asides):
        beneath = ducking(row.number, row.places, float(near.max())) if params.bite == "shitagake" else None
        yield replace(row, via=_between_pins(middles, aside, south), beneath=beneath)


def _half_way(azimuths: Floats, lines: Lines) -> Floats:
    """(b,) azimuths half way, along the equator, from each bite to the next."""
    here, there = azimuths[lines], np.roll(azimuths[lines], -1)
    return np.asarray(here + np.mod(there - here, 2 * np.pi) / 2)


def _asides(widths: list[float], room: float) -> list[float]:
    """How far from the bundle's middle each row enters it and leaves it; rows lie closer where they need more room."""
    edges = [sum(widths[:k]) + width / 2 for k, width in enumerate(widths)]
    share = min(1.0, room / 2 / max(sum(widths), _LEAST))
    return [edge * share for edge in edges]


def _between_pins(middles: Floats, aside: float, south: NDArray[np.bool_]) -> tuple[Points, ...]:
    """Two places for the span after each bite: left of the middle where it enters, right of it where it leaves.

    A petal's legs so stay in the order they have at the bites, and cross over within the bundle.
    """
    height = np.where(south, -1.0, 1.0) * aside
    turned = np.stack([middles - aside, middles + aside], axis=1)
    level = np.stack([height, -height], axis=1)
    places = [np.cos(level) * np.cos(turned), np.cos(level) * np.sin(turned), np.sin(level)]
    return tuple(np.stack(places, axis=2))
