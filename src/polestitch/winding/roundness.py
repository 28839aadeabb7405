"""How round a wound ball is, how sure that is, and where it wants more thread.

In: circumferences over the poles and round the obi.  Out: ``Shape``.

A ball nearly round is taken as an ellipsoid: its radius is a mean, longer or shorter at the poles, and on the obi
longer one way than across it.  A way round such a ball is, to first order, the circle of the mean radius along it (an
ellipse's perimeter is pi (a + b), less than a ten-thousandth wrong at 2 % out of round).  Readings are linear in what
is sought then, and least squares give it with its standard deviation.  Roundness deviation is meant as in ISO 1101 and
ISO 12181-1 (cited from memory): largest less smallest radius.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from polestitch.ball.measured import PADDED_PERCENT, ROUND_PERCENT, Roundness
from polestitch.errors import DesignError
from polestitch.winding.materials import WRAPS, Material, Range
from polestitch.winding.plan import TURN

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

# A tape round a soft ball reads to about a millimetre, one standard deviation: common practice, no source.
OFF_BY_MM = 1.0
SURE = 0.95  # of what is called certain; a range is two standard deviations each way
MEND = ("thin yarn", "sewing thread")


@dataclass(frozen=True)
class Spot:
    """A place on the ball and how its radius differs from the mean; ``add_mm`` makes it as high as the highest."""

    name: str
    off_mm: float
    doubt_mm: float  # standard deviation
    add_mm: float


@dataclass(frozen=True)
class Shape:
    """The ball as far as the readings tell it."""

    measured: Roundness
    off_by_mm: float  # standard deviation of one reading
    radius_mm: float
    spots: tuple[Spot, ...]
    turn: float | None  # radians right of line 1 where the obi is widest; ``None``: not known
    out_mm: Range  # largest less smallest radius
    left_mm: float | None  # root mean square of what the shape leaves of the readings; ``None``: nothing to tell it by
    certain: bool  # whether the readings differ by more than reading alone would make them

    @property
    def out_percent(self) -> float:
        """Roundness deviation in percent of the radius."""
        return 100 * self.out_mm.likely / self.radius_mm

    @property
    def lacking_cm3(self) -> float:
        """What has to be added to bring every place to the highest."""
        highest = max(spot.off_mm for spot in self.spots)
        return 4 * math.pi * self.radius_mm**2 * highest / 1000

    @property
    def mended_with(self) -> Material:
        """Yarn where it can lie deep enough, else thread."""
        thick, thin = (WRAPS[name] for name in MEND)
        return thick if max(spot.add_mm for spot in self.spots) >= thick.least_mm else thin

    @property
    def verdict(self) -> str:
        """``round``, ``unsure``, ``roll``, ``pad`` or ``too few``."""
        if len(self.spots) < 2:  # one way only, however often
            return "too few"
        if self.measured.spread_percent <= ROUND_PERCENT:
            return "round"
        if not self.certain:
            return "unsure"
        return "roll" if self.measured.spread_percent <= PADDED_PERCENT else "pad"


def shape(measured: Roundness, off_by_mm: float = OFF_BY_MM) -> Shape:
    """The shape that fits the readings best; ``DesignError`` where nothing was measured."""
    import numpy as np

    lengths = measured.readings_mm
    if not lengths:
        raise DesignError("measured", "measure round the ball first: over the poles in two directions, and round it")
    told, known = _design(len(measured.pole_to_pole_mm), len(measured.obi_mm))
    values, *_ = np.linalg.lstsq(told, np.array(lengths), rcond=None)
    spread = off_by_mm**2 * np.linalg.inv(told.T @ told)
    radius, found = float(values[0]), dict(zip(known, values.tolist(), strict=True))
    turn = _widest(found)
    spots = _spots(known, turn)
    rows = np.array([[0.0, *row[1:]] for _, row in spots])
    off = rows @ values
    doubts = np.sqrt(np.clip(np.einsum("ij,jk,ik->i", rows, spread, rows), 0, None))
    across = rows[int(off.argmax())] - rows[int(off.argmin())]
    out, reach = float(off.max() - off.min()), 2 * math.sqrt(float(across @ spread @ across))
    left = len(lengths) - len(known)
    rest = None if left < 1 else float(np.sqrt(((told @ values - lengths) ** 2).sum() / left))
    return Shape(
        measured,
        off_by_mm,
        radius,
        tuple(
            Spot(name, o, d, float(off.max()) - o)
            for (name, _), o, d in zip(spots, off.tolist(), doubts.tolist(), strict=True)
        ),
        turn,
        Range(max(0.0, out - reach), out, out + reach),
        rest,
        _certain(lengths, off_by_mm),
    )


def _design(over_poles: int, round_obi: int) -> "tuple[NDArray[np.float64], tuple[str, ...]]":
    """(readings, unknowns) what each reading tells of each unknown, and which unknowns the readings can tell apart.

    Radius at the poles: mean + ``poles``; on the obi at longitude l: mean - poles / 2 + ``wide`` cos 2l + ``aside``
    sin 2l.  One way over the poles says nothing of the obi's own shape, two at right angles only how line 1 differs.
    """
    import numpy as np

    longitude = np.arange(over_poles) * math.pi / max(over_poles, 1)
    meridian = {
        "mean": np.full(over_poles, TURN),
        "poles": np.full(over_poles, math.pi / 2),
        "wide": math.pi * np.cos(2 * longitude),
        "aside": math.pi * np.sin(2 * longitude),
    }
    obi = {"mean": TURN, "poles": -math.pi, "wide": 0.0, "aside": 0.0}
    tells = {"poles": over_poles > 0 and round_obi > 0, "wide": over_poles > 1, "aside": over_poles > 2}
    known = ("mean", *(name for name, told in tells.items() if told))
    columns = [np.concatenate([meridian[name], np.full(round_obi, obi[name])]) for name in known]
    return np.stack(columns, axis=1), known


def _widest(found: dict[str, float]) -> float | None:
    """Longitude where the obi reaches farthest, 0 to pi."""
    if "wide" not in found:
        return None
    return (math.atan2(found.get("aside", 0.0), found["wide"]) / 2) % math.pi


def _spots(known: Sequence[str], turn: float | None) -> list[tuple[str, list[float]]]:
    """Places where the radius is greatest or least, and what each unknown does there."""
    obi = [] if turn is None else [turn, (turn + math.pi / 2) % math.pi]

    def row(poles: float, wide: float, aside: float) -> list[float]:
        parts = {"mean": 1.0, "poles": poles, "wide": wide, "aside": aside}
        return [parts[name] for name in known]

    at_poles = [("N and S", row(1.0, 0.0, 0.0))] if "poles" in known else []
    sides = [(_on_obi(at), row(-0.5, math.cos(2 * at), math.sin(2 * at))) for at in obi]
    return at_poles + (sides or [("the obi all round", row(-0.5, 0.0, 0.0))])


def _on_obi(longitude: float) -> str:
    turn = round(math.degrees(longitude)) % 180
    where = "on line 1" if turn == 0 else f"{turn}° right of line 1"
    return f"the obi {where}, and opposite"


def _certain(lengths: Sequence[float], off_by_mm: float) -> bool:
    """Whether the readings differ by more than reading makes them: their sum of squares against chi-squared."""
    from scipy.stats import chi2

    if len(lengths) < 2:
        return False
    mean = sum(lengths) / len(lengths)
    statistic = sum(((length - mean) / off_by_mm) ** 2 for length in lengths)
    return bool(statistic > chi2.ppf(SURE, len(lengths) - 1))
