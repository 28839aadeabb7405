"""Whether what is made of a ball is whole: every figure finite, nothing empty, every layer and place spoken of.

In: any records, arrays or plain data, or a build.  Out: what is wrong, each in a few words; nothing where all is well.
"""

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import Any

import numpy as np

from polestitch.checks import findings
from polestitch.pipeline import Build
from polestitch.scene.scene import scene
from polestitch.sheets.views import motif_chart, unlike_motifs
from polestitch.steps.instructions import Instructions
from tests.builds import estimated, marking_of

NO_FIGURE = re.compile(r"\b(nan|inf|None)\b|\{\w*\}")


def unsound(value: Any, where: str = "") -> Iterator[str]:
    """Figures that are none, and words that were never filled in, anywhere in ``value``."""
    if isinstance(value, str):
        wrong = bool(NO_FIGURE.search(value))
    elif isinstance(value, (float, np.ndarray, np.floating)):
        wrong = not np.all(np.isfinite(value))
    else:
        wrong = False
    if wrong:
        yield f"{where}: {value}"
    for name, inner in _within(value):
        yield from unsound(inner, f"{where}.{name}")


def _within(value: Any) -> Iterator[tuple[str, Any]]:
    """What a group, a list or a record holds."""
    if isinstance(value, dict):
        yield from value.items()
    elif isinstance(value, (list, tuple)):
        yield from ((str(k), inner) for k, inner in enumerate(value))
    elif is_dataclass(value):
        yield from ((field.name, getattr(value, field.name)) for field in fields(value))


def wanting(made: Build, said: Instructions) -> Iterator[str]:
    """All that is amiss with what is told of a build whose steps are ``said``."""
    yield from unsound(made.laid, "laid")
    yield from unsound(made.crossings.point, "crossings")
    yield from unsound((said.steps, said.tables), "steps")
    for layer, entry in enumerate(made.design.layers):
        yield from _of_layer(made, said, layer, entry.name)
    yield from _amounts(made)
    seen = scene(made, 1)
    yield from unsound((seen.index, seen.arrays), "scene")
    if [layer["name"] for layer in seen.index["layers"]] != [layer.name for layer in made.design.layers]:
        yield "the scene does not name the layers"
    if set(seen.arrays["row_layer"].tolist()) != set(range(len(made.design.layers))):
        yield "the scene shows no thread of a layer"


def _of_layer(made: Build, said: Instructions, layer: int, name: str) -> Iterator[str]:
    motifs = [motif for motif in made.motifs if motif.layer == layer]
    steps, tables = said.of("layer", layer), said.tables_of(layer)
    if len(steps) < 2 or not all(step.text.endswith((".", ":", ";")) for step in steps):
        yield f"{name}: its steps are no sentences"
    if [step.number for step in steps] != list(range(1, len(steps) + 1)):
        yield f"{name}: its steps do not count from one"
    if {place for table in tables for place in table.places} != {motif.place for motif in motifs}:
        yield f"{name}: its tables leave a place out"
    if not all(table.rows and all(row.distances for row in table.rows) for table in tables):
        yield f"{name}: a table is empty"
    for motif in unlike_motifs(made, layer):
        chart = motif_chart(made, motif)
        yield from unsound(chart.marks, f"{name}: chart")
        if not (10 < chart.height < 300 and len(chart.marks) > 3):
            yield f"{name}: its chart is empty"


def _amounts(made: Build) -> Iterator[str]:
    estimate = estimated(made, marking_of(made))
    listed = findings(made, estimate.needed_mm)
    yield from unsound((estimate, listed), "estimate and findings")
    used = {made.design.threads[k].name for k in np.unique(made.laid.row_thread).tolist()}
    amounts = {amount.name: amount for amount in estimate.threads}
    if not all(amounts[name].total_mm > amounts[name].laid_mm > 0 and amounts[name].lengths > 0 for name in used):
        yield "a thread that is used has no amount"
    if not 0 < estimate.hours.low <= estimate.hours.likely <= estimate.hours.high:
        yield "hours are none"
    layers = range(len(made.design.layers))
    if not all(one.sentence.endswith(".") and (one.layer is None or one.layer in layers) for one in listed):
        yield "a finding is no sentence, or about no layer"
