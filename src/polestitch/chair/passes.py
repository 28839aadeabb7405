"""What each leg's needle goes under and over, for the legs that go under anything.

In: a build.  Out: words for each laid span.
"""

from itertools import groupby

import numpy as np

from polestitch.laying.built import Stitched
from polestitch.laying.weave import closing
from polestitch.steps.corners import the

Words = tuple[tuple[str, ...], tuple[str, ...]]


def passes_said(made: Stitched) -> dict[int, Words]:
    """By index of the span: what it goes under and what over, each in the order the thread comes to it."""
    laid, met = made.laid, made.crossings
    below = ~made.over & ~closing(laid, met)
    told = np.flatnonzero(np.isin(laid.arc_span[met.second], laid.arc_span[met.second[below]]) & ~closing(laid, met))
    told = told[np.lexsort((met.t_second[told], met.second[told]))]
    rows = laid.arc_row[met.first[told]]
    columns = (laid.arc_span[met.second[told]], below[told], laid.row_layer[rows], laid.row_motif[rows])
    places = {(motif.layer, motif.number - 1): the(motif.place) for motif in made.motifs}
    said: dict[int, Words] = {}
    for (span, under, layer, motif), run in groupby(zip(*(column.tolist() for column in columns))):
        count = len(list(run))
        many = f"{count} thread{'' if count == 1 else 's'}"
        words = f"{many} of {made.design.layers[layer].name} at {places[layer, motif]}"
        unders, overs = said.get(span, ((), ()))
        said[span] = ((*unders, words), overs) if under else (unders, (*overs, words))
    return said
