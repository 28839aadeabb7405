"""Plans of pieces as they are written down: made in a worker, packed, and read again without building anything.

In: a document's text.  Out: ``Planned``; pages of steps; what the steps done so far took.
"""

import json
import zlib
from dataclasses import asdict
from typing import Any

import numpy as np

from polestitch.chair.hand_step import HandStep
from polestitch.chair.pace import Left, hours_left
from polestitch.chair.plan import plan
from polestitch.scene import encoded, scene
from polestitch.store.pieces import Planned
from polestitch.studio.shown import made
from polestitch.workup import workup

PAGE = 200  # steps of one packed page
MOST_PACKED = 60_000_000  # bytes a packed part may have when open
HIDDEN = ("thread_index", "uses", "origin", "work")


def planned(text: str, revision: int) -> Planned:
    """The whole plan of a document; ``DesignError`` where any of it cannot be made.  Runs in a worker."""
    build = made(text)
    work = workup(build)
    found = plan(work)
    parts = {f"steps {k}": _packed(_page(found.steps, k)) for k in range(-(-len(found.steps) // PAGE))}
    sizes = np.array([(step.thread_index, step.uses, step.seconds) for step in found.steps], dtype="<f4")
    hours = work.estimate.hours
    told = {
        "steps": len(found.steps),
        "around_mm": build.ball.around_mm,
        "layers": [asdict(layer) for layer in found.layers],
        "threads": [
            {"name": t.name, "colour": str(t.colour), "metallic": t.metallic, "total_mm": round(a.total_mm, 1)}
            for t, a in zip(build.design.threads, work.estimate.threads)
        ],
        "span": [round(hours.low / hours.likely, 4), round(hours.high / hours.likely, 4)],
        "hand": build.design.maker.hand,
    }
    rest = {"sizes": zlib.compress(sizes.tobytes()), "scene": zlib.compress(encoded(scene(build, 0)), 3)}
    return Planned(text, revision, told, {**parts, **rest})


def _page(steps: tuple[HandStep, ...], page: int) -> list[dict[str, Any]]:
    return [step_told(step) for step in steps[page * PAGE : (page + 1) * PAGE]]


def step_told(step: HandStep) -> dict[str, Any]:
    """A step as devices read it."""
    told = {name: value for name, value in asdict(step).items() if name not in HIDDEN}
    work = {kind: round(amount, 4) for kind, amount in step.work.items() if amount}
    return {**told, "from": step.origin, "uses_mm": round(step.uses, 1), "work": work}


def _packed(value: Any) -> bytes:
    return zlib.compress(json.dumps(value, ensure_ascii=False, separators=(",", ":")).encode())


def opened(data: bytes) -> bytes:
    """A packed part, open; never more than such a part can have."""
    return zlib.decompressobj().decompress(data, MOST_PACKED)


def steps_json(pages: list[bytes], start: int, count: int, first_page: int) -> bytes:
    """The wanted steps as JSON; whole pages need not be read to be sent."""
    steps = [step for page in pages for step in json.loads(opened(page))]
    begin = start - first_page * PAGE
    return json.dumps({"steps": steps[begin : begin + count]}, ensure_ascii=False, separators=(",", ":")).encode()


def _sizes(data: bytes) -> "np.ndarray[tuple[int, int], np.dtype[np.float32]]":
    return np.frombuffer(opened(data), "<f4").reshape(-1, 3)


def _mask(count: int, done: list[list[int]]) -> "np.ndarray[tuple[int], np.dtype[np.bool_]]":
    mask = np.zeros(count, dtype=bool)
    for start, end in done:
        mask[start : min(end, count)] = True
    return mask


def uses_of(told: dict[str, Any], data: bytes, state: dict[str, Any]) -> dict[str, float]:
    """Millimetres of each thread, by name, that the steps done so far took."""
    sizes = _sizes(data)
    mine = _mask(len(sizes), state["done"]) & (sizes[:, 0] >= 0)
    mm = np.bincount(sizes[mine, 0].astype(int), weights=sizes[mine, 1], minlength=len(told["threads"]))
    return {thread["name"]: float(each) for thread, each in zip(told["threads"], mm)}


def time_left(told: dict[str, Any], data: bytes, state: dict[str, Any]) -> Left:
    """Hours left, by the estimate and her own pace."""
    sizes = _sizes(data)
    done = _mask(len(sizes), state["done"])
    seconds = sizes[:, 2].astype(float)
    low, high = told["span"]
    return hours_left(seconds[~done].sum() / 3600, seconds[done].sum() / 3600, logged_hours(state), (low, high))


def step_seconds(data: bytes) -> list[float]:
    """Seconds the plan gave each step."""
    return [float(each) for each in _sizes(data)[:, 2]]


def logged_hours(state: dict[str, Any]) -> float:
    """Hours of all sittings: her own word where she gave one."""
    return sum(s["seconds"] / 3600 if s["minutes"] is None else s["minutes"] / 60 for s in state["sittings"])
