"""Net (amime): rings of zigzag round a centre, each overlapping the one before, its bites between the former ones.

The outer bites of one row reach past the inner bites of the next on the same line, so the rows make
meshes like lace.  How far they overlap is given on no page: a third of a row's height is a start.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Annotated

import numpy as np
from pydantic import BaseModel, Field

from polestitch.document.lengths import Length
from polestitch.errors import DesignError
from polestitch.stitching.moves import Corners, Floats, growing
from polestitch.stitching.site import Site
from polestitch.stitching.stitches import Row

PLACE = "centre"
EXAMPLE = {"division": "S12", "where": "N", "rows": "4 white", "params": {}}
HOW = (
    "Every row is a zigzag that closes. From row 2 on, its inner bites stand between the legs of the former row, "
    "on the lines where that row had its outer ones, and nearer to the centre than those.",
)
_FARTHEST = 2.9


class Params(BaseModel, frozen=True, extra="forbid"):
    """Where the net begins and how large its meshes are."""

    inner: Annotated[Length, Field(description="Inner bites of the first row, from the centre")] = Length("8 mm")
    height: Annotated[Length, Field(description="From a row's inner bites to its outer ones")] = Length("8 mm")
    overlap: Annotated[float, Field(gt=0, lt=1, description="How much of its height a row overlaps the former one")] = (
        1 / 3
    )


def stitch(site: Site, params: Params, pitches: Iterable[float]) -> Iterator[Row]:
    """One ring for each pitch: inner bites on the lines in odd rows, between the lines in even ones."""
    azimuth = _lines_and_between(site)
    height = site.width(params.height, "params.height")
    inner = site.distance(params.inner, 0, "params.inner")
    numbers = tuple(site.numbers[k // 2] for k in range(len(azimuth)))
    for number, pitch in enumerate(pitches, 1):
        near = inner + (number - 1) * height * (1 - params.overlap)
        if near + height > _FARTHEST:
            raise DesignError("rows", "are so many that the net runs off the guideline; take fewer")
        far = (np.arange(len(azimuth)) + number) % 2 == 0
        corners = Corners(azimuth, np.where(far, near + height, near), numbers)
        (row,) = growing(corners, [pitch], site)
        yield replace(row, number=number, plan=number - 1, strand=number - 1)


def _lines_and_between(site: Site) -> Floats:
    """(2 w,) azimuths of the guidelines and of the middles between them."""
    ends = np.append(site.azimuths, site.azimuths[0] + 2 * np.pi)
    return np.asarray(np.stack([ends[:-1], (ends[:-1] + ends[1:]) / 2], axis=1).ravel())
