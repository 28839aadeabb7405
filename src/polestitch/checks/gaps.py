"""What a design leaves free between what meets: before what a layer runs until, and between neighbouring motifs.

In: a build.  Out: ``Gap``s in mm, which a ball out of round may close or open.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from polestitch.checks.base import promises
from polestitch.checks.finding import Made
from polestitch.checks.neighbours import narrowest


@dataclass(frozen=True)
class Gap:
    """Ground that layer ``layer`` counts on, at ``place``."""

    layer: str
    place: str
    mm: float


def gaps(made: Made) -> tuple[Gap, ...]:
    """Each layer's narrowest gap of either kind; motifs that cross each other leave none."""
    return (*_before_ends(made), *_between(made))


def _before_ends(made: Made) -> Iterator[Gap]:
    least: dict[int, float] = {}
    for mm, layer in promises(made):
        least[layer] = min(mm, least.get(layer, mm))
    for layer, mm in least.items():
        yield Gap(made.design.layers[layer].name, "before what it runs until", mm)


def _between(made: Made) -> Iterator[Gap]:
    for layer, entry in enumerate(made.design.layers):
        motifs = [motif for motif in made.motifs if motif.layer == layer and motif.site.kind == "centre"]
        if len(motifs) < 2 or any(motif.reaches == "neighbours" for motif in motifs):
            continue
        bare, pair, _ = narrowest(made, motifs)
        if bare > 0:
            yield Gap(entry.name, f"between {pair[0]} and {pair[1]}", made.ball.mm(bare))
