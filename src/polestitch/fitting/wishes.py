"""What a maker wishes of a layer, and by how much a document misses it.

In: a wish as plain data, and documents.  Out: ``Wish`` records, and ``Missed`` in mm.
"""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Any, Literal, get_args

import numpy as np
from numpy.typing import NDArray
from pydantic import Field, ValidationError

from polestitch.document.design import Name, Record
from polestitch.document.lengths import Length
from polestitch.document.sentences import design_error
from polestitch.errors import DesignError
from polestitch.fit import extent, target_distance
from polestitch.fitting.outline import Outline, beside, gap, outlines
from polestitch.fitting.stage import Document, Ground, Stage, ground_of
from polestitch.stitching.motifs import Repeat
from polestitch.stitching.stitches import Row

Change = Literal["rows", "stretch", "start", "thread", "pitch", "around"]
CHANGES: tuple[Change, ...] = get_args(Change)


class Wish(Record):
    """One wish for one layer."""

    layer: Annotated[Name, Field(description="The layer to fit")]
    wish: Annotated[Literal["meet", "gap", "reach", "fill"], Field(description="What it is to do")]
    other: Annotated[Name | None, Field(alias="with", description="Layer it meets; none: its own neighbours")] = None
    gap: Annotated[Length | None, Field(description="How far apart, for gap")] = None
    at: Annotated[str | None, Field(max_length=200, description="What its last row reaches, for reach")] = None
    change: Annotated[Change, Field(description="What may change")] = "rows"
    param: Annotated[Name | None, Field(description="For start: which param")] = None

    @property
    def said(self) -> str:
        """The wish as the end of a sentence."""
        beside = f'"{self.other}"' if self.other else "its neighbours"
        return {
            "meet": f"meets {beside}",
            "gap": f"stops {self.gap} short of {beside}",
            "reach": f"reaches {self.at}",
            "fill": "fills its face",
        }[self.wish]


@dataclass(frozen=True)
class Missed:
    """``mm`` more room than was wished, less than 0 for too little; ``place`` is where it is tightest."""

    mm: float
    place: str


def wishes_of(raw: dict[str, Any], document: Document) -> tuple[Wish, ...]:
    """The wishes in ``raw``; ``DesignError`` for one that cannot be read."""
    several = raw["wishes"] if isinstance(raw.get("wishes"), list) and raw["wishes"] else [raw]
    names = [str(layer["name"]) for layer in document.get("layers", ())]
    wishes = tuple(_wish(one) for one in several)
    for wish in wishes:
        for name in filter(None, (wish.layer, wish.other)):
            if name not in names:
                raise DesignError("wish", f'no layer is called "{name}"; there are {", ".join(names) or "none"}')
    return wishes


def _wish(raw: Any) -> Wish:
    try:
        wish = Wish.model_validate_json(json.dumps(raw), strict=True)
    except ValidationError as error:
        raise design_error(error, Wish, "wish") from None
    if wish.wish == "gap" and (wish.gap is None or wish.gap.mm is None):
        raise DesignError("wish.gap", 'say how far apart, such as "2 mm"')
    if wish.wish == "reach" and wish.at is None:
        raise DesignError("wish.at", 'say what to reach, such as "5 mm from obi" or "centre 2"')
    return wish


def missed(document: Document, wish: Wish) -> Missed:
    """By how much the document misses the wish; ``DesignError`` where it cannot be stitched or measured."""
    ground = ground_of(document)
    stage = _stage(ground, wish.layer)
    if wish.wish in ("meet", "gap"):
        found = _apart(ground, stage, wish)
    elif wish.wish == "fill":
        found = _least(stage, _room)
    else:
        found = _least(stage, lambda rows, repeat: _until(rows, repeat, str(wish.at), ground))
    return Missed(ground.ball.mm(found[0]) - (wish.gap.mm or 0.0 if wish.gap else 0.0), found[1])


def _stage(ground: Ground, name: str) -> Stage:
    return ground.stage([layer.name for layer in ground.design.layers].index(name))


def _apart(ground: Ground, stage: Stage, wish: Wish) -> tuple[float, str]:
    """Least gap between neighbouring motifs."""
    _refuse_all_over(stage)
    own = outlines(stage)
    if wish.other is None or wish.other == wish.layer:
        pairs = [(one, other) for one in _sorts(stage, own) for other in beside(one, _without(own, one))]
    else:
        against = _stage(ground, wish.other)
        _refuse_all_over(against)
        theirs = outlines(against)
        pairs = [(one, other) for one in _sorts(stage, own) for other in beside(one, theirs)]
    if not pairs or any(one.width is not None and other.width is not None for one, other in pairs):
        raise DesignError("wish.with", f'"{wish.layer}" has no neighbours to meet; name another layer it lies beside')
    found = [(gap(one, other), f"between {one.name} and {other.name}") for one, other in pairs]
    return min(found, key=lambda one: (round(one[0], 9), one[1]))


def _refuse_all_over(stage: Stage) -> None:
    if stage.repeats[0].seat.site.kind in ("ball", "poles"):
        raise DesignError(
            "wish.layer", f'"{stage.name}" runs over the whole ball, so it has no neighbours; choose reach'
        )


def _without(outlines_: Sequence[Outline], one: Outline) -> list[Outline]:
    others = [other for other in outlines_ if other is not one]
    if not others:
        raise DesignError("wish.with", f"{one.name} is its only place, so it has no neighbours; name another layer")
    return others


def _sorts(stage: Stage, own: Sequence[Outline]) -> list[Outline]:
    """One outline of each sort of place."""
    first = {seat.likeness: k for k, seat in reversed(list(enumerate(stage.places)))}
    return [own[k] for k in sorted(first.values())]


def _least(stage: Stage, room: Any) -> tuple[float, str]:
    found = [(room(stage.rows(repeat), repeat), f"at {repeat.seat.name}") for repeat in stage.repeats]
    return min(found, key=lambda one: (round(one[0], 9), one[1]))


def inward(rows: Sequence[Row], repeat: Repeat) -> bool:
    """Whether the motif grows toward its middle; of a single row its outward steps tell."""
    first, kind = rows[0], repeat.seat.site.kind
    if kind in ("circle", "ball") or first.turn is not None:
        return False
    return bool(np.all(first.outward[_free(first), 2] > 0))


def _free(row: Row) -> NDArray[np.bool_]:
    """(b,) the bites that tell how far a row reaches, as "until" counts them."""
    return np.ones_like(row.wide) if row.wide.all() else ~row.wide


def _room(rows: Sequence[Row], repeat: Repeat) -> float:
    """Radians of face left: to the centre for inward rows, else along each guideline to the edge."""
    last, site = rows[-1], repeat.seat.site
    if site.kind not in ("centre", "arc"):
        raise DesignError("wish.wish", "only a motif round a centre or along a line has a face to fill; choose reach")
    away = np.arccos(np.clip(last.places[:, 2], -1, 1))
    if inward(rows, repeat):
        return float(away.min() - last.pitch / 2)
    azimuth = np.arctan2(last.places[:, 1], last.places[:, 0])
    turn = np.abs((azimuth[:, None] - site.azimuths + np.pi) % (2 * np.pi) - np.pi)
    reach = site.reaches[turn.argmin(axis=1)]
    return float((reach - away)[_free(last)].min() - last.pitch / 2)


def _until(rows: Sequence[Row], repeat: Repeat, target: str, ground: Ground) -> float:
    """Radians from the last row's ends to the target, as "until" counts them."""
    limit = target_distance(repeat, target, ground.marking)
    reach = extent(rows[-1], repeat.seat.site.kind)
    return reach - limit if inward(rows, repeat) else limit - reach
