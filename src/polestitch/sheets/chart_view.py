"""How one motif is seen on its chart: the lens, the scale, the outer circle.

In: a ``Build`` and one of its motifs.  Out: ``View``.
"""

from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from polestitch.pipeline import Build
from polestitch.sheets.curves import curve_of
from polestitch.sheets.lenses import FlatLens, scale_for
from polestitch.sheets.threads import motif_arcs
from polestitch.sphere.arcs import Points, arc_angle
from polestitch.stitching.motifs import Motif

RADIUS = 63.0  # most paper a chart takes from its middle


@dataclass(frozen=True, eq=False)
class View:
    """One motif as it is seen on its chart."""

    build: Build
    motif: Motif
    lens: FlatLens
    scale: Fraction
    outer: str  # what the outer circle is

    @property
    def radius(self) -> float:
        """Paper radius of the outer circle."""
        return self.lens.reach * self.lens.mm

    def spot(self, point: Points) -> tuple[float, float]:
        """One point on paper."""
        x, y = self.lens.paper(point[None])[0].tolist()
        return x, y


def view_of(build: Build, motif: Motif) -> View:
    """The lens, scale and outer circle that suit the motif."""
    middle, up = motif.middle, motif.frame[:, 0]
    extent = _extent(build, motif)
    edge = float(max(motif.site.reaches, default=0.0))
    pole = abs(float(middle[2])) > 1 - 1e-9 and "C" not in build.marking.division
    reach, outer = _outer(build, motif, extent, edge, pole)
    scale = scale_for(build.ball.mm(reach), RADIUS)
    return View(build, motif, FlatLens(middle, up, build.ball.radius_mm * float(scale), reach), scale, outer)


def _outer(build: Build, motif: Motif, extent: float, edge: float, pole: bool) -> tuple[float, str]:
    """How far the chart reaches, and the name of the circle there."""
    if motif.site.kind == "centre" and extent <= edge + 1e-6:
        if pole:
            return edge, "obi"
        return edge, f"face edge, {build.ball.mm(edge):.1f} mm from {motif.place}"
    reach = min(extent + build.ball.angle(7.0), 2.9)
    return reach, f"{build.ball.mm(reach):.1f} mm from the middle"


def _extent(build: Build, motif: Motif) -> float:
    """How far the motif's thread gets from its middle."""
    far = [0.0]
    for arc in motif_arcs(build, motif).tolist():
        curve = curve_of(build.laid, arc)
        far.append(float(arc_angle(curve.at(np.linspace(0, curve.sweep, 9)), motif.middle).max()))
    return max(far)
