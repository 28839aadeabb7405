"""If the ball comes out different: the document as written, on balls a little smaller and larger than planned.

In: a document.  Out: plain data, one entry a size, for ``sizes --json``, the studio and the booklet.
"""

from typing import Any

from polestitch.document.limits import around_mm as mm_of
from polestitch.errors import DesignError
from polestitch.fitting.replan import replanned
from polestitch.fitting.stage import Document, design_of, ground_of, planned
from polestitch.fitting.wishes import Wish, missed
from polestitch.pipeline import build
from polestitch.workup import WorkUp, workup

SIZES = {"4 % smaller": 0.96, "2 % smaller": 0.98, "as planned": 1.0, "2 % larger": 1.02}
_SAME_SIZE = 0.05  # mm


def sizes_table(document: Document, measured_mm: float | None = None) -> dict[str, Any]:
    """Rows, gap, thread and findings by size; ``DesignError`` where the planned ball itself cannot be made."""
    planned_mm = mm_of(str(document["ball"]["around"]), "ball.around")
    sizes = [(said, planned_mm * scale) for said, scale in SIZES.items()]
    if measured_mm is not None and all(abs(measured_mm - mm) > _SAME_SIZE for _, mm in sizes):
        sizes.append(("as measured", measured_mm))
    usual = _worked(document, planned_mm)
    known = {(finding.kind, finding.layer) for finding in usual.findings}
    return {"planned_mm": planned_mm, "sizes": [_size(document, *size, known) for size in sizes]}


def _worked(document: Document, mm: float) -> WorkUp:
    return workup(build(design_of(planned(document, f"{mm:.6f} mm"))))


def _size(document: Document, said: str, mm: float, known: set[tuple[str, int | None]]) -> dict[str, Any]:
    """One size; one on which the design cannot be made says why and has no figures."""
    plain = {"size": said, "around_mm": round(mm, 3)}
    try:
        work = _worked(document, mm)
        alike = replanned(document, mm).document
    except DesignError as error:
        return {**plain, "impossible": str(error), "layers": [], "threads": [], "new_findings": []}
    fresh = [finding for finding in work.findings if (finding.kind, finding.layer) not in known]
    return {
        **plain,
        "impossible": None,
        "layers": [_layer(document, mm, k, work) | _for_look(alike, k) for k in range(len(work.build.design.layers))],
        "threads": [{"id": one.name, "total_mm": round(one.total_mm, 3)} for one in work.estimate.threads],
        "new_findings": [finding.sentence for finding in fresh],
    }


def _layer(document: Document, mm: float, index: int, work: WorkUp) -> dict[str, Any]:
    name = work.build.design.layers[index].name
    motifs = [motif for motif in work.build.motifs if motif.layer == index]
    return {
        "name": name,
        "rows": max((row.plan + 1 for motif in motifs for row in motif.rows), default=0),
        "gap_mm": _gap(planned(document, f"{mm:.6f} mm"), name),
    }


def _for_look(alike: Document, index: int) -> dict[str, int]:
    """Rows of the layer with which the ball looks as planned."""
    stage = ground_of(alike).stage(index)
    return {"rows_for_look": max(stage.count(repeat) for repeat in stage.repeats)}


def _gap(document: Document, name: str) -> float | None:
    """Room to its neighbours, or else to the edge of its face; ``None`` where it has neither."""
    for kind in ("meet", "fill"):
        try:
            return round(missed(document, Wish.model_validate({"layer": name, "wish": kind})).mm, 3)
        except DesignError:
            continue
    return None
