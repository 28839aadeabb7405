"""The charts of a layer, whatever it is worked on.

In: a ``Build``.  Out: blocks, one for each kind of motif the layer has.
"""

from polestitch.pipeline import Build
from polestitch.sheets.band_chart import band_chart
from polestitch.sheets.blocks import Block
from polestitch.sheets.chart import chart
from polestitch.stitching.motifs import Motif


def unlike_motifs(build: Build, layer: int) -> tuple[Motif, ...]:
    """The first motif of each kind in a layer: motifs that share their rows look alike."""
    kinds: dict[int, Motif] = {}
    for motif in build.motifs:
        if motif.layer == layer:
            kinds.setdefault(id(motif.rows), motif)
    return tuple(kinds.values())


def motif_chart(build: Build, motif: Motif) -> Block:
    """The chart that suits where the motif is worked."""
    return band_chart(build, motif) if motif.site.kind == "circle" else chart(build, motif)
