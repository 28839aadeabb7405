"""The golden file that both folds are held to: event logs as devices tell them, and the states they come to.

In: nothing.  Out: ``web/src/wire/golden/chair.json``; ``python -m tools.golden_chair`` writes it.
"""

import json
import random
from pathlib import Path
from typing import Any

from polestitch.chair.fold import folded

GOLDEN = Path(__file__).parents[1] / "web" / "src" / "wire" / "golden" / "chair.json"
Event = dict[str, Any]


def logs() -> list[dict[str, Any]]:
    """Named logs and their states."""
    named = {**_told(), **{f"any log {seed}": _any_log(seed) for seed in range(12)}}
    return [{"name": name, "events": events, "state": folded(events)} for name, events in named.items()]


def _event(n: int, device: str, clock: int, /, **deed: Any) -> Event:
    at = f"2026-12-06T{9 + clock // 60:02d}:{clock % 60:02d}:30.250Z"
    return {"id": f"{n:032x}", "device": device, "seq": n, "clock": clock, "at": at, **deed}


def _told() -> dict[str, list[Event]]:
    """One log for each thing that is easily got wrong."""
    sitting = [_event(1, "a", 1, kind="sit", what="start"), _event(2, "a", 3, kind="next", step=0)]
    idle = [*sitting, _event(3, "a", 63, kind="next", step=1), _event(4, "a", 64, kind="sit", what="stop")]
    two = [_event(k, "ab"[k % 2], 1 + k // 2, kind="next", step=k) for k in range(8)]
    return {
        "nothing": [],
        "next and back": [
            _event(k, "a", k, kind=kind, step=s)
            for k, (kind, s) in enumerate([("next", 0), ("next", 1), ("back", 2), ("back", 1), ("back", 0)], 1)
        ],
        "an idle hour": idle,
        "a corrected sitting": [*idle, _event(9, "a", 65, kind="hours", sitting=f"{1:032x}", minutes=42)],
        "told twice": [*two, *two[2:5]],
        "told backwards": two[::-1],
        "jump done": [_event(1, "a", 1, kind="jump", to=40, between="done"), _event(2, "a", 2, kind="unpick", to=20)],
        "jump as is": [_event(1, "a", 1, kind="jump", to=40, between="as is"), _event(2, "a", 2, kind="next", step=40)],
        "notes": [
            _event(1, "a", 1, kind="note", step=3, text="Softer here", photo="f" * 32),
            _event(2, "b", 1, kind="differently", step=3, text="Five rows"),
            _event(3, "a", 2, kind="ran_out", step=4, thread="navy"),
        ],
        "pins": [
            _event(1, "a", 1, kind="pins", what="in", n=12),
            _event(2, "b", 2, kind="pins", what="out", n=5),
            _event(3, "b", 3, kind="pins", what="count", n=7, when="end"),
        ],
        "planned anew": [
            _event(1, "a", 1, kind="jump", to=90, between="done"),
            _event(2, "studio", 2, kind="replan", revision=4, kept=60),
            _event(3, "a", 3, kind="setting", name="idle", value=20),
        ],
    }


def _any_log(seed: int) -> list[Event]:
    """Sixty deeds of two devices, in whatever order they arrive."""
    dice, events = random.Random(seed), []
    for n in range(1, 61):
        device, step = dice.choice("ab"), dice.randrange(30)
        deed: Event = dice.choice(
            [
                {"kind": "next", "step": step},
                {"kind": "next", "step": step + 1},
                {"kind": "back", "step": step},
                {"kind": "jump", "to": step, "between": dice.choice(["done", "as is"])},
                {"kind": "unpick", "to": step},
                {"kind": "sit", "what": dice.choice(["start", "stop", "beat"])},
                {"kind": "setting", "name": "idle", "value": dice.choice([1, 5, 30])},
                {"kind": "pins", "what": dice.choice(["in", "out", "count"]), "n": dice.randrange(9), "when": "start"},
            ]
        )
        events.append(_event(n, device, dice.randrange(1, 90), **deed))
    dice.shuffle(events)
    return events


def text() -> str:
    """The file's text."""
    return json.dumps(logs(), indent=1, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    GOLDEN.write_text(text(), encoding="utf-8")
