"""Balls for tests of pictures."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from polestitch.ball.ball import Ball
from polestitch.document.design import Design
from polestitch.laying.crossings import Crossings, crossings
from polestitch.laying.laid import Laid
from polestitch.marking.divisions import marked
from polestitch.marking.marking import Marking
from polestitch.marking.support import supported
from polestitch.picture.scene import Subject, Yarn
from tests.laying.hand_laid import Hand

X, Y, Z = np.eye(3)
RED, BLUE, GREEN, NAVY = "#a93d29", "#2b4c7e", "#47654a", "#22324f"
BARE = Hand().row(np.array([-Z, -Z + 0.001 * X])).laid()  # one stitch out of sight from anywhere but below


def ring_of_bands(pitch: float = 0.2) -> tuple[Laid, Crossings, NDArray[np.bool_]]:
    """Bands about x, y and z, each over one and under the other: later over earlier, but x over z."""
    laid = Hand(pitch).turn(X, thread=0).turn(Y, thread=1).turn(Z, thread=2).laid()
    met = crossings(laid)
    return laid, met, ~((met.first == 0) & (met.second == 2))


def plain(laid: Laid, *colours: str, ground: str = NAVY, metallic: bool = False) -> Subject:
    """A ball of 240 mm without marking."""
    return Subject(laid, tuple(Yarn(colour, metallic) for colour in colours), ground, 240)


@dataclass(frozen=True, eq=False)
class Built:
    """The stages of a build that pictures read."""

    design: Design
    ball: Ball
    marking: Marking
    laid: Laid
    crossings: Crossings
    over: NDArray[np.bool_]


def built(marking_thread: str | None = "gold", **marking: object) -> Built:
    """Three woven bands on an S8 with obi."""
    laid, met, over = ring_of_bands(0.05)
    threads: list[dict[str, str | bool]] = [
        {"name": name, "colour": colour} for name, colour in (("red", RED), ("blue", BLUE), ("green", GREEN))
    ]
    threads.append(
        {"name": "gold", "colour": "#d9b24a", "size": "fine metallic", "fibre": "metallic", "metallic": True}
    )
    design = Design.model_validate(
        {
            "name": "woven",
            "ball": {"around": "240 mm", "colour": NAVY},
            "threads": threads,
            "marking": {"division": "S8+obi", "thread": marking_thread, **marking},
        }
    )
    guided = supported(marked("S8+obi"), design.marking.support, Ball(240))
    return Built(design, Ball(240), guided, laid, met, over)
