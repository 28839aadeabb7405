"""What a sampler tells, as plain data and in words.

In: ``Sampled``.  Out: a dict that ``hand --json`` prints; ``docs/json.md`` says what each key means.
"""

from typing import Any

from polestitch.document.design import Reading
from polestitch.document.ranges import Range
from polestitch.hand.hand import PUBLISHED, Known
from polestitch.hand.learning import scaled
from polestitch.hand.sampler import Sampled


def hand_json(found: Sampled) -> dict[str, Any]:
    """Her hand after the sampler and before it, what to put into a design, and sentences."""
    measures = found.measures
    pitch = {thread: (scaled(PUBLISHED.pitch, mm), scaled(found.hand.pitch, mm)) for thread, mm in found.gauges.items()}
    step = {} if measures.step is None else {"step": (PUBLISHED.step, found.hand.step)}
    return {
        "readings": len(found.readings),
        "measures": {
            "pitch": {thread: _reading(one) for thread, one in measures.pitch.items()},
            **{
                name: _reading(one)
                for name, one in (("step", measures.step), ("bite", measures.bite), ("dip", measures.dip))
                if one is not None
            },
        },
        "pitch_mm": {thread: _pair(*both) for thread, both in pitch.items()},
        **({} if not step else {"step_mm": _pair(*step["step"])}),
        "said": [
            *(_pitch_said(thread, *both) for thread, both in pitch.items()),
            *(_step_said(*b) for b in step.values()),
        ],
    }


def _reading(one: Reading) -> dict[str, str]:
    return {"length": str(one.length), "spread": str(one.spread)}


def _pair(before: Known, now: Known) -> dict[str, dict[str, float]]:
    return {"before": before.range.json(), "now": now.range.json()}


def _mm(figure: Range) -> str:
    return f"{figure.likely:.2f} mm ({figure.low:.2f} to {figure.high:.2f})"


def _pitch_said(thread: str, before: Known, now: Known) -> str:
    return f"{thread} lies {_mm(now.range)} wide as you lay it; before you measured it was {_mm(before.range)}."


def _step_said(before: Known, now: Known) -> str:
    return f"At a narrow point you step {_mm(now.range)}; before you measured it was {_mm(before.range)}."
