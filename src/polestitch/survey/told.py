"""A survey as plain data: what ``survey --json`` prints, and the sentences in it.

In: a ``Survey``.  Out: a dict of numbers, words and lists; lengths in mm.  ``docs/json.md`` says what each means.
"""

import math
from collections.abc import Iterable
from typing import Any

from polestitch.marking.folds import to_half_mm
from polestitch.survey.directions import Move
from polestitch.survey.survey import Judged, Survey


def survey_json(found: Survey) -> dict[str, Any]:
    """Every figure, and what to do in words."""
    off, doubt = found.off_mm, found.doubt_mm
    known = found.turned.known
    return {
        "said": said(found),
        "ball": {"around_mm": _mm(found.around_mm)},
        "care": {"off_by_mm": found.care.sigma_mm, "near_mm": found.care.near_mm},
        "now": {
            "worst_mm": _mm(off[known].max(initial=0.0)),
            "mean_mm": _mm(off[known].mean()) if known.any() else 0.0,
            "standing": int(found.turned.stands.sum()),
            "pins": len(found.names),
        },
        "pins": [
            {
                "point": name,
                "known": bool(known[k]),
                "off_mm": _mm(off[k]) if known[k] else None,
                "doubt_mm": _mm(doubt[k]) if known[k] else None,
                "at": [round(float(x), 9) for x in found.network.at[k]],
                "target": [round(float(x), 9) for x in found.turned.target[k]],
            }
            for k, name in enumerate(found.names)
        ],
        "moves": [
            {
                "point": move.point,
                "mm": _mm(move.mm),
                "parts": [{"mm": _mm(part.mm), "toward": part.toward} for part in move.parts],
                "checks": [{"point": check.point, "mm": _mm(check.mm)} for check in move.checks],
                "sentence": move_sentence(move),
            }
            for move in found.moves
        ],
        "readings": [_judged(one) for one in found.judged],
        "unit": round(found.network.held.unit, 3),
        "gaps": [
            {"first": gap.first, "second": gap.second, "mm": _mm(gap.mm), "wanted_mm": _mm(gap.wanted_mm)}
            for gap in found.gaps[:10]
        ],
        "unknown": list(found.unknown),
        "next": [{"first": one.first, "second": one.second, "gain_mm": _mm(one.gain_mm)} for one in found.next],
    }


def _judged(one: Judged) -> dict[str, Any]:
    finite = math.isfinite(one.least_mm)
    return {
        "line": one.reading.line,
        "first": one.reading.first,
        "second": one.reading.second,
        "mm": _mm(one.reading.mm),
        "off_mm": _mm(one.off_mm),
        "test": round(one.test, 3),
        "least_mm": _mm(one.least_mm) if finite else None,
        "misread": one.misread,
        "twins": [twin.line for twin in one.twins],
    }


def _mm(mm: float) -> float:
    return round(float(mm), 3)


def said(found: Survey) -> list[str]:
    """What she needs to hear, the most pressing first."""
    return [
        *_misread(found),
        _moving(found),
        *_gap(found),
        *_unknown(found),
        *_unchecked(found),
        *_size(found),
        *_more(found),
    ]


def _misread(found: Survey) -> list[str]:
    return [
        f"{one.reading.first} to {one.reading.second} was probably misread: {one.reading.mm:g} mm does not go with the "
        f"other readings, which make it {one.reading.mm - one.off_mm:.1f} mm.{_or_else(one)} Measure it again."
        for one in found.judged
        if one.misread
    ]


def _or_else(one: Judged) -> str:
    if not one.twins:
        return ""
    others = ", ".join(f"{twin.first} to {twin.second}" for twin in one.twins[:3])
    return f" Or it was {others}: these readings cannot tell which."


def _moving(found: Survey) -> str:
    known = int(found.turned.known.sum())
    if not found.moves:
        return f"All {known} pins that the readings reach stand within {found.care.near_mm:g} mm: move none."
    pins = "1 pin" if len(found.moves) == 1 else f"{len(found.moves)} pins"
    return f"Move {pins} of {known}; the others stand within {found.care.near_mm:g} mm of an even marking."


def _gap(found: Survey) -> list[str]:
    if not found.moves or not found.gaps:
        return []
    gap = found.gaps[0]
    less = "less" if gap.mm < gap.wanted_mm else "more"
    return [
        f"As it is, motifs between {gap.first} and {gap.second} have {abs(gap.mm - gap.wanted_mm):.1f} mm {less} room "
        f"than they should: {gap.mm:.1f} mm for {gap.wanted_mm:.1f} mm."
    ]


def _unknown(found: Survey) -> list[str]:
    if not found.unknown:
        return []
    named = ", ".join(found.unknown[:6]) + (f" and {len(found.unknown) - 6} more" if len(found.unknown) > 6 else "")
    return [f"The readings leave open where {named} stand{'s' if len(found.unknown) == 1 else ''}."]


def _unchecked(found: Survey) -> list[str]:
    lone = [one for one in found.judged if math.isinf(one.least_mm) and not one.misread]
    if not lone:
        return []
    reading = lone[0].reading
    others = f" and {len(lone) - 1} more readings" if len(lone) > 1 else ""
    return [f"Nothing checks {reading.first} to {reading.second}{others}: a misreading there would go unseen."]


def _size(found: Survey) -> list[str]:
    change = found.network.scale - 1
    doubt = math.sqrt(max(float(found.network.covariance[-1, -1]), 0))
    if abs(change) < max(2 * doubt, 0.003):
        return []
    return [
        f"Together the readings say the ball is {found.around_mm:.0f} mm round, {abs(change):.1%} "
        f"{'more' if change > 0 else 'less'} than planned. Measure it round, and plan anew if that is so."
    ]


def _more(found: Survey) -> list[str]:
    if not found.next:
        return []
    one = found.next[0]
    return [f"If you measure one more distance, take {one.first} to {one.second}: it tells most."]


def motifs_json(gaps: Iterable[tuple[str, tuple[str, str], float, float]]) -> list[dict[str, Any]]:
    """(layer, its two motifs, mm now, mm wanted) as plain data with its sentence."""
    return [
        {
            "layer": layer,
            "first": ends[0],
            "second": ends[1],
            "mm": _mm(mm),
            "wanted_mm": _mm(wanted),
            "sentence": motif_sentence(layer, ends, mm, wanted),
        }
        for layer, ends, mm, wanted in gaps
    ]


def motif_sentence(layer: str, ends: tuple[str, str], mm: float, wanted_mm: float) -> str:
    """What pins that are off do to a layer's tightest pair of motifs."""
    now = f"overlap by about {-mm:.1f} mm" if mm < -0.05 else f"come within about {max(mm, 0.0):.1f} mm of each other"
    due = f"overlap by {-wanted_mm:.1f} mm" if wanted_mm < -0.05 else f"keep {max(wanted_mm, 0.0):.1f} mm"
    return f'On these pins the motifs of "{layer}" at {ends[0]} and {ends[1]} {now}; they should {due}.'


def move_sentence(move: Move) -> str:
    """One move as the hand makes it, whole and half millimetres first."""
    ways = " and ".join(f"{_half(part.mm)} mm toward {part.toward}" for part in move.parts) or f"{_half(move.mm)} mm"
    checks = ", ".join(f"{_half(check.mm)} mm from {check.point}" for check in move.checks)
    return f"Move the pin of {move.point} by {ways}" + (f", until it is {checks}." if checks else ".")


def _half(mm: float) -> str:
    return f"{to_half_mm(mm):g}"
