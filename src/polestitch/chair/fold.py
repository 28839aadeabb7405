"""What all events of a piece come to.  Twin of ``web/src/state/fold.ts``; both are held to one golden file.

In: events as plain records, in whatever order, doubled or not.  Out: the state, plain data.
Events are laid in the order (clock, device, seq); each names its step, so that a double changes nothing.  An event
that makes no sense changes nothing but the clock.
"""

from collections.abc import Callable, Iterable
from datetime import UTC, datetime, timedelta
from typing import Any

State = dict[str, Any]
Event = dict[str, Any]
Span = list[int]
IDLE_MINUTES = 5
EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
FAR = 2**53  # beyond any step


def nothing_done() -> State:
    """The state before the first event."""
    pins = {"in": 0, "out": 0, "counts": []}
    rest: State = {"notes": [], "pins": pins, "sittings": [], "settings": {}, "revision": None}
    return {"clock": 0, "place": 0, "done": [], **rest}


def folded(events: Iterable[Event]) -> State:
    """The state all ``events`` come to."""
    state = nothing_done()
    for event in ordered(events):
        state = after(state, event)
    return state


def ordered(events: Iterable[Event]) -> list[Event]:
    """Each event once, in the order they are laid in."""
    once: dict[str, Event] = {}
    for event in events:
        once.setdefault(event["id"], event)
    return sorted(once.values(), key=lambda e: (e["clock"], e["device"], e["seq"], e["id"]))


def after(state: State, event: Event) -> State:
    """The state after one more event."""
    beaten = _beat({**state, "clock": max(state["clock"], event["clock"])}, event)
    turn = TURNS.get(event.get("kind", ""))
    try:
        return beaten if turn is None else turn(beaten, event)
    except (KeyError, TypeError, ValueError):
        return beaten


def with_span(spans: list[Span], start: int, end: int) -> list[Span]:
    """``spans`` with [start, end) in it, joined where they touch."""
    if end <= start:
        return spans
    before, behind = [s for s in spans if s[1] < start], [s for s in spans if s[0] > end]
    touched = [s for s in spans if s[1] >= start and s[0] <= end]
    joined = [min([start, *(s[0] for s in touched)]), max([end, *(s[1] for s in touched)])]
    return [*before, joined, *behind]


def without_span(spans: list[Span], start: int, end: int) -> list[Span]:
    """``spans`` without [start, end)."""
    if end <= start:
        return spans
    left: list[Span] = []
    for first, last in spans:
        parts = ([first, min(last, start)], [max(first, end), last])
        left.extend(part for part in parts if part[0] < part[1])
    return left


def _next(state: State, event: Event) -> State:
    step = _step(event["step"])
    return {**state, "done": with_span(state["done"], step, step + 1), "place": step + 1}


def _back(state: State, event: Event) -> State:
    place = max(0, _step(event["step"]) - 1)
    return {**state, "done": without_span(state["done"], place, place + 1), "place": place}


def _jump(state: State, event: Event) -> State:
    to, done = _step(event["to"]), state["done"]
    if event.get("between") == "done" and to > state["place"]:
        done = with_span(done, state["place"], to)
    return {**state, "done": done, "place": to}


def _unpick(state: State, event: Event) -> State:
    to = _step(event["to"])
    noted = _noted(state, event, step=to)
    return {**noted, "done": without_span(state["done"], to, FAR), "place": to}


def _note(state: State, event: Event) -> State:
    return _noted(state, event, step=_step(event["step"]), text=str(event["text"]), photo=event.get("photo"))


def _differently(state: State, event: Event) -> State:
    return _noted(state, event, step=_step(event["step"]), text=str(event["text"]))


def _ran_out(state: State, event: Event) -> State:
    return _noted(state, event, step=_step(event["step"]), thread=str(event["thread"]))


def _noted(state: State, event: Event, **more: Any) -> State:
    plain = {"id": event["id"], "kind": event["kind"], "text": "", "photo": None, "thread": None, "at": event["at"]}
    return {**state, "notes": [*state["notes"], {**plain, **more}]}


def _pins(state: State, event: Event) -> State:
    pins, what, n = state["pins"], event["what"], _step(event["n"])
    if what == "count":
        counted = {"n": n, "when": event.get("when") or "", "at": event["at"]}
        return {**state, "pins": {**pins, "counts": [*pins["counts"], counted]}}
    if what not in ("in", "out"):
        return state
    return {**state, "pins": {**pins, what: pins[what] + n}}


def _hours(state: State, event: Event) -> State:
    wanted, minutes = event["sitting"], event["minutes"]
    sittings = [{**s, "minutes": minutes} if s["id"] == wanted else s for s in state["sittings"]]
    return {**state, "sittings": sittings}


def _setting(state: State, event: Event) -> State:
    return {**state, "settings": {**state["settings"], event["name"]: event["value"]}}


def _replan(state: State, event: Event) -> State:
    revised = {**state, "revision": _step(event["revision"])}
    if event.get("kept") is None:
        return revised
    kept = _step(event["kept"])
    return {**revised, "done": without_span(state["done"], kept, FAR), "place": min(state["place"], kept)}


TURNS: dict[str, Callable[[State, Event], State]] = {
    "next": _next,
    "back": _back,
    "jump": _jump,
    "unpick": _unpick,
    "note": _note,
    "differently": _differently,
    "ran_out": _ran_out,
    "pins": _pins,
    "hours": _hours,
    "setting": _setting,
    "replan": _replan,
}


def _step(value: Any) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value < FAR:
        raise ValueError(value)
    return value


def _beat(state: State, event: Event) -> State:
    """Time runs while a device sits; a gap longer than she allows is left out."""
    what = event.get("what") if event.get("kind") == "sit" else None
    idle = 60 * _idle_minutes(state)
    sittings = [
        _ran(s, event["at"], idle, what in ("start", "stop")) if s["open"] and s["device"] == event["device"] else s
        for s in state["sittings"]
    ]
    if what == "start":
        begun = {"id": event["id"], "device": event["device"], "began": event["at"], "last": event["at"]}
        sittings.append({**begun, "seconds": 0, "open": True, "minutes": None})
    return {**state, "sittings": sittings}


def _idle_minutes(state: State) -> float:
    value = state["settings"].get("idle", IDLE_MINUTES)
    plain = isinstance(value, int | float) and not isinstance(value, bool)
    return value if plain else IDLE_MINUTES


def _ran(sitting: State, at: str, idle: float, closes: bool) -> State:
    gap = (_ms(at) - _ms(sitting["last"])) // 1000
    return {
        **sitting,
        "seconds": sitting["seconds"] + (gap if 0 < gap <= idle else 0),
        "last": at if gap > 0 else sitting["last"],
        "open": not closes,
    }


def _ms(at: str) -> int:
    """Milliseconds since 1970; a time that is none counts as the beginning."""
    try:
        time = datetime.fromisoformat(at)
    except ValueError:
        return 0
    return ((time if time.tzinfo else time.replace(tzinfo=UTC)) - EPOCH) // timedelta(milliseconds=1)
