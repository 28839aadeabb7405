"""Whether the work fits into the sessions, said honestly, and what would make it fit.

In: a class, its stages, its timeline, and perhaps a smaller ball's stages.  Out: a sentence and ``Remedy`` records.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from polestitch.teaching.document import ClassSpec, Prepared, Session
from polestitch.teaching.minutes import time_said
from polestitch.teaching.stages import Stage
from polestitch.teaching.timeline import Timeline, timeline


@dataclass(frozen=True)
class Remedy:
    """One way to make it fit: what to do, and minutes that are left over for most hands if it is done."""

    what: str
    left: float

    @property
    def sentence(self) -> str:
        """What to do and whether it is enough."""
        enough = "then most finish" if self.left <= 0 else f"then {time_said(self.left)} are left"
        return f"{self.what}: {enough}."


@dataclass(frozen=True)
class Smaller:
    """The same look on a smaller ball."""

    around_mm: float
    stages: tuple[Stage, ...]


def verdict(found: Timeline) -> str:
    """Who finishes, and where the others stop."""
    quick, most, slow = (found.reach[hand] for hand in ("low", "likely", "high"))
    if slow.done:
        return "It fits: even a slow hand finishes in the time there is."
    behind = f"A slow hand {_stops(slow.after)} and has about {time_said(slow.left)} left."
    if most.done:
        return f"Most finish in the time there is. {behind}"
    many = f"Most {_stop(most.after)} and have about {time_said(most.left)} left to do at home."
    first = (
        "Only a quick hand finishes in the time there is." if quick.done else "Nobody finishes in the time there is."
    )
    return f"{first} {many} {behind}"


def _stop(after: str) -> str:
    return f"stop after {after}" if after else "end no stage"


def _stops(after: str) -> str:
    return f"stops after {after}" if after else "ends no stage"


def remedies(
    spec: ClassSpec, stages: Sequence[Stage], found: Timeline, smaller: Smaller | None = None
) -> tuple[Remedy, ...]:
    """What would help most hands; none where they finish anyway."""
    if found.reach["likely"].done:
        return ()
    return tuple(_remedies(spec, stages, found, smaller))


def _remedies(spec: ClassSpec, stages: Sequence[Stage], found: Timeline, smaller: Smaller | None) -> Iterator[Remedy]:
    now = found.reach["likely"].left
    for what, ready in _more_ready(spec.prepared):
        yield Remedy(what, _left(spec.model_copy(update={"prepared": ready}), stages))
    last = spec.sessions[-1]
    count = next((n for n in range(1, 13) if _left(_longer(spec, last, n), stages) <= 0), None)
    if count:
        plural = "one more session" if count == 1 else f"{count} more sessions"
        yield Remedy(f"Give {plural} of {time_said(last.minutes)}", 0.0)
    rows = _fewer_rows(spec, stages)
    if rows:
        yield rows
    if smaller is not None:
        left = _left(spec, smaller.stages)
        if left < now:
            yield Remedy(f"Take a ball {smaller.around_mm:.0f} mm round with the same look", left)
    if stages and stages[-1].kind == "finish":
        yield Remedy("Let them finish at home, with the handout", _left(spec, stages[:-1]))


def _more_ready(prepared: Prepared) -> Iterator[tuple[str, Prepared]]:
    if not (prepared.base or prepared.pins or prepared.marking):
        yield "Wind the balls beforehand", Prepared(base=True)
    if not prepared.marking:
        yield "Bring the balls wound, pinned and marked", Prepared(base=True, pins=True, marking=True)


def _longer(spec: ClassSpec, last: Session, count: int) -> ClassSpec:
    return spec.model_copy(update={"sessions": (*spec.sessions, *[last] * count)})


def _left(spec: ClassSpec, stages: Sequence[Stage]) -> float:
    return timeline(spec, stages).reach["likely"].left


def _fewer_rows(spec: ClassSpec, stages: Sequence[Stage]) -> Remedy | None:
    """As many of the last rows left out as it takes, but never a whole stage's last one."""
    kept = list(stages)
    spare = sum(max(0, len(stage.items) - 1) for stage in kept if stage.kind == "layer")
    for dropped in range(1, spare + 1):
        longest = max((k for k, s in enumerate(kept) if s.kind == "layer"), key=lambda k: len(kept[k].items))
        kept[longest] = replace(kept[longest], items=kept[longest].items[:-1])
        if _left(spec, kept) <= 0:
            rows = "one row" if dropped == 1 else f"{dropped} rows"
            return Remedy(f"Plan {rows} fewer, the longest stages first", 0.0)
    return None
