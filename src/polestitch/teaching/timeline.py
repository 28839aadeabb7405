"""The stages laid onto the sessions: what is reached, where to stop, what is left.

In: stages and sessions.  Out: ``Timeline``.

A row is not begun that cannot be ended before the session does; winding, pins, lines, finishing and
a round of many places may be broken off.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

from polestitch.teaching.document import ClassSpec
from polestitch.teaching.minutes import HANDS, Hand, Minutes
from polestitch.teaching.stages import Item, Kind, Stage, total

NOTHING = 1e-6  # minutes
READY: dict[Kind, tuple[str, ...]] = {
    "base": ("base", "pins", "marking"),
    "pins": ("pins", "marking"),
    "marking": ("marking",),
}


@dataclass(frozen=True)
class Bar:
    """A stage, or a part of it, in one session: minutes from the session's beginning."""

    stage: int
    start: float
    minutes: float


@dataclass(frozen=True)
class Meeting:
    """One session as it will go for most hands; ``stop`` says where to stop, empty when everything is done."""

    minutes: float
    title: str
    talk: float
    bars: tuple[Bar, ...]
    stop: str


@dataclass(frozen=True)
class Reach:
    """How far one hand comes: after what she stops, and minutes of work she has left."""

    after: str
    left: float

    @property
    def done(self) -> bool:
        """Whether the ball is finished."""
        return self.left <= NOTHING


@dataclass(frozen=True)
class Timeline:
    """What the class does of ``stages``, session by session, and how far quick, most and slow hands come."""

    stages: tuple[Stage, ...]
    beforehand: tuple[Stage, ...]
    meetings: tuple[Meeting, ...]
    reach: dict[Hand, Reach]

    @property
    def needed(self) -> Minutes:
        """Minutes of work that are not prepared."""
        return total(self.stages)


def is_ready(spec: ClassSpec, kind: Kind) -> bool:
    """Whether a stage is prepared: who sets pins has a base, who lays lines has pins."""
    return any(getattr(spec.prepared, name) for name in READY.get(kind, ()))


def timeline(spec: ClassSpec, stages: Sequence[Stage]) -> Timeline:
    """The work that is not prepared, session by session."""
    ready = tuple(stage for stage in stages if is_ready(spec, stage.kind))
    todo = tuple(stage for stage in stages if not is_ready(spec, stage.kind))
    runs = {hand: _run(spec, todo, hand) for hand in HANDS}
    return Timeline(todo, ready, runs["likely"].meetings(spec), {hand: run.reach for hand, run in runs.items()})


@dataclass
class _Run:
    """One hand at work."""

    bars: list[list[Bar]] = field(default_factory=list)
    stops: list[str] = field(default_factory=list)
    reach: Reach = field(default_factory=lambda: Reach("", 0.0))

    def meetings(self, spec: ClassSpec) -> tuple[Meeting, ...]:
        """What came of it."""
        rows = zip(spec.sessions, self.bars, self.stops)
        return tuple(
            Meeting(session.minutes, session.title, min(spec.talk, session.minutes), tuple(_merged(bars)), stop)
            for session, bars, stop in rows
        )


@dataclass
class _Task:
    """An item that waits: its stage, and minutes of it that are still to do."""

    stage: int
    item: Item
    minutes: float


def _run(spec: ClassSpec, todo: Sequence[Stage], hand: Hand) -> _Run:
    """Item after item, each in the session it fits in."""
    queue = [_Task(k, item, item.minutes.of(hand)) for k, stage in enumerate(todo) for item in stage.items]
    whole = max(max(0.0, session.minutes - spec.talk) for session in spec.sessions)
    run, after = _Run(), ""
    for session in spec.sessions:
        begin = min(spec.talk, session.minutes)
        bars, ended = _session(queue, begin, session.minutes)
        after = ended or after
        stop = f"Stop after {after}." if after else "Nothing is ended yet."
        room = session.minutes - (bars[-1].start + bars[-1].minutes if bars else begin)
        if queue and room > NOTHING and (queue[0].item.parts or queue[0].minutes > whole):
            bars.append(Bar(queue[0].stage, session.minutes - room, room))
            queue[0].minutes -= room
            stop = f"Break off {queue[0].item.pause}."
        run.bars.append(bars)
        run.stops.append(stop if queue else "")
    run.reach = Reach(after, sum(task.minutes for task in queue))
    return run


def _session(queue: list[_Task], at: float, end: float) -> tuple[list[Bar], str]:
    """What is ended from ``at`` to ``end``, taken off the queue, and the last of it."""
    bars, ended = list[Bar](), ""
    while queue and at + queue[0].minutes <= end + NOTHING:
        task = queue.pop(0)
        bars.append(Bar(task.stage, at, task.minutes))
        at, ended = at + task.minutes, task.item.after
    return bars, ended


def _merged(bars: Sequence[Bar]) -> list[Bar]:
    """Neighbouring parts of one stage as one."""
    merged: list[Bar] = []
    for bar in bars:
        if merged and merged[-1].stage == bar.stage:
            merged[-1] = Bar(bar.stage, merged[-1].start, merged[-1].minutes + bar.minutes)
        else:
            merged.append(bar)
    return merged
