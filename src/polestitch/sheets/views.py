"""The charts of a layer, whatever it is worked on.

In: a ``Build``.  Out: blocks, one for each kind of motif the layer has.
"""

import numpy as np

from polestitch.pipeline import Build
from polestitch.sheets.band_chart import band_chart
from polestitch.sheets.blocks import Block
from polestitch.sheets.chart import chart
from polestitch.stitching.motifs import Motif


def unlike_motifs(build: Build, layer: int) -> tuple[Motif, ...]:
    """The first motif of each kind in a layer: those alike in their own frames have one chart."""
    kinds: dict[tuple[object, ...], Motif] = {}
    for motif in build.motifs:
        if motif.layer == layer:
            kinds.setdefault(_likeness(motif), motif)
    return tuple(kinds.values())


def _likeness(motif: Motif) -> tuple[object, ...]:
    """Equal for motifs whose threads lie alike round their middles, whatever their guidelines are called."""
    lie = (row.places if row.turn is None else row.turn.normal + row.turn.offset for row in motif.rows)
    return (motif.site.kind, motif.threads, *((np.round(each, 6) + 0.0).tobytes() for each in lie))


def motif_chart(build: Build, motif: Motif) -> Block:
    """The chart that suits where the motif is worked."""
    return band_chart(build, motif) if motif.site.kind == "circle" else chart(build, motif)
