"""How round a ball is, as plain data and in words: what ``roundness --json`` prints.

In: a ``Shape``, how densely things pack, and what the design leaves free.  Out: a dict.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from polestitch.winding.materials import Range
from polestitch.winding.plan import densities_with
from polestitch.winding.roundness import Shape

TWICE = 2.0  # standard deviations that a reading may be off before it is said
Free = tuple[str, str, float]  # a layer's name, where, and the mm it leaves free there


def roundness_json(
    found: Shape, free: Sequence[Free] = (), densities: Mapping[str, Range] | None = None
) -> dict[str, Any]:
    """Every figure: out of round, how sure, where to add how much, and whether the design bears it."""
    measured = found.measured
    return {
        "around_mm": round(measured.around_mm, 2),
        "readings": {
            "pole_to_pole_mm": [round(mm, 2) for mm in measured.pole_to_pole_mm],
            "obi_mm": [round(mm, 2) for mm in measured.obi_mm],
        },
        "off_by_mm": round(found.off_by_mm, 2),
        "spread_mm": round(measured.spread_mm, 2),
        "spread_percent": round(measured.spread_percent, 2),
        "out_mm": _range(found.out_mm),
        "out_percent": round(found.out_percent, 2),
        "certain": found.certain,
        "left_mm": None if found.left_mm is None else round(found.left_mm, 2),
        "radius_mm": round(found.radius_mm, 3),
        "turn": None if found.turn is None else round(found.turn, 4),
        "spots": [
            {
                "name": spot.name,
                "off_mm": round(spot.off_mm, 2),
                "doubt_mm": round(spot.doubt_mm, 2),
                "add_mm": round(spot.add_mm, 2),
            }
            for spot in found.spots
        ],
        "add": _added(found, densities),
        "bears": _borne(found, free),
        "verdict": found.verdict,
        "said": _said(found),
    }


def _added(found: Shape, densities: Mapping[str, Range] | None) -> dict[str, Any] | None:
    """Material that brings every place to the highest; ``None`` where nothing is to be added."""
    if found.verdict in ("too few", "round", "unsure"):
        return None
    material = found.mended_with
    grams = densities_with(densities)[material.name].times(found.lacking_cm3)
    return {
        "material": material.name,
        "cm3": round(found.lacking_cm3, 2),
        "grams": _range(grams),
        "metres": None if material.tex is None else _range(grams.times(1000 / material.tex)),
        "around_mm": round(found.measured.around_mm * (1 + max(s.off_mm for s in found.spots) / found.radius_mm), 1),
    }


def _borne(found: Shape, free: Sequence[Free]) -> dict[str, Any]:
    """What this ball does to places planned from pole to obi, beside what each layer leaves free."""
    doubt = found.measured.doubt_mm(found.measured.around_mm / 4)
    layers = [{"layer": name, "place": at, "free_mm": round(mm, 2), "holds": doubt <= mm} for name, at, mm in free]
    broken = [f'"{name}" {at}' for name, at, mm in free if doubt > mm]
    said = f"A place planned from pole to obi can be off by {doubt:.1f} mm"
    if not free:
        said += "; no layer here counts on a gap."
    elif broken:
        said += f": more than is left free by {', by '.join(broken)}."
    else:
        said += ": every layer of this design leaves more."
    return {"doubt_mm": round(doubt, 2), "layers": layers, "holds": not broken, "said": said}


def _said(found: Shape) -> list[str]:
    measured, verdict = found.measured, found.verdict
    if verdict == "too few":
        return ["Measure over the poles in two directions and once round the middle, to see how round the ball is."]
    words = [_how_sure(found)]
    if found.left_mm is not None and found.left_mm > TWICE * found.off_by_mm:
        words.append(
            f"The readings contradict each other by {found.left_mm:.1f} mm, more than the tape explains: look for a "
            "bump or a flat, and measure again."
        )
    if not measured.obi_mm:
        words.append("Nothing was read round the obi, so what the poles lack cannot be known: measure there too.")
    if verdict == "unsure":
        return [*words, "Measure each way once more: more readings settle it. Do not pad what may be only the tape."]
    if verdict == "round":
        return [*words, "It is round enough to mark."]
    add = [f"{spot.add_mm:.1f} mm at {spot.name}" for spot in found.spots if spot.add_mm >= 0.05]
    lead = "Roll the ball under your palm first and measure again. " if verdict == "roll" else ""
    words.append(
        f"{lead}Wind {found.mended_with.title} so that its turns cross where the ball is low: about {'; '.join(add)}. "
        "Turn the ball a little each time, so that no ridge grows, and measure again."
    )
    if verdict == "pad":
        words.append("If it stays so, unwind to the last yarn, or choose a design that hides it.")
    return words


def _how_sure(found: Shape) -> str:
    out, measured = found.out_mm, found.measured
    said = (
        f"The readings differ by {measured.spread_mm:.1f} mm, {measured.spread_percent:.1f} %: the radius differs by "
        f"{out.likely:.1f} mm, between {out.low:.1f} and {out.high:.1f} mm if one reading is off by "
        f"{found.off_by_mm:g} mm."
    )
    return said if found.certain else f"{said} Reading alone can make that much."


def _range(figure: Range) -> dict[str, float]:
    return {"low": round(figure.low, 2), "likely": round(figure.likely, 2), "high": round(figure.high, 2)}
