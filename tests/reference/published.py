"""What published patterns imply: the pitch thread lies at, the step at points, and which rule of steps bears them out.

``python -m tests.reference.published`` prints the tables.
"""

from collections.abc import Callable, Mapping
from unittest.mock import patch

import numpy as np
from numpy.typing import NDArray

from polestitch.stitching import moves
from tests.reference.patterns import PATTERNS, STRETCH_MM, UNDECIDED, Pattern

Floats = NDArray[np.float64]
Mask = NDArray[np.bool_]
Rule = Callable[[float, Floats, float, Mask], Floats]
HANDS = np.arange(1.0, 1.61, 0.05)  # pitch as laid over the gauge's
ELONGATED = "spindles over a pole, 24 cm, 8 rounds"  # longer steps are meant there, so no rule is judged by it


def _limited(step: Floats, gap: float, stretch: float) -> Floats:
    return np.asarray(np.maximum(np.minimum(step, stretch), gap))


def plain(gap: float, sine: Floats, stretch: float, inward: Mask) -> Floats:
    """The free step, at most the stretch."""
    return _limited(moves.free_step(gap, sine), gap, stretch)


def stretched(gap: float, sine: Floats, stretch: float, inward: Mask) -> Floats:
    """The stretch at every tip of less than 60 degrees, else the free step."""
    return np.where(sine < 0.5, max(stretch, gap), plain(gap, sine, stretch, inward))


def longer(gap: float, sine: Floats, stretch: float, inward: Mask) -> Floats:
    """The stretch at every corner of less than 90 degrees, else the free step."""
    return np.where(sine < np.sqrt(0.5) - 1e-3, max(stretch, gap), plain(gap, sine, stretch, inward))


def wider(gap: float, sine: Floats, stretch: float, inward: Mask) -> Floats:
    """The free step times 1.27 at every corner, at most the stretch."""
    return _limited(1.27 * moves.free_step(gap, sine), gap, stretch)


def by_thread(gap: float, sine: Floats, stretch: float, inward: Mask) -> Floats:
    """The free step, at most a stretch that grows with the thread: 2 mm stands for size 5."""
    return plain(gap, sine, 2.8 * gap, inward)


RULES: Mapping[str, Rule] = {
    "a  free step, at most the stretch (before)": plain,
    "b  stretch at tips below 60 degrees": stretched,
    "c  stretch at corners below 90 degrees": longer,
    "d  free step x 1.27 at every corner": wider,
    "e  stretch by the thread, 2.8 pitches": by_thread,
    "f  up to 1.25 free steps at sharp corners (now)": moves.tip_step,
}


def off(pattern: Pattern, hand: float, stretch_mm: float = STRETCH_MM) -> float:
    """Logarithm of rows the model finds over rows published."""
    return float(np.log(min(pattern.fits(hand * pattern.packed_mm, stretch_mm), 3 * pattern.rows) / pattern.rows))


def misses(rule: Rule, hand: float) -> Floats:
    """(patterns,) ``off`` of every pattern under another rule of steps."""
    with patch.object(moves, "tip_step", rule):
        return np.array([off(pattern, hand) for pattern in PATTERNS])


def rms(values: Floats) -> float:
    """Root mean square of what is judged."""
    judged = [pattern.name != ELONGATED for pattern in PATTERNS]
    return float(np.sqrt(np.mean(values[judged] ** 2)))


def implied() -> str:
    """Each pattern with the pitch, the step and the rows that go with it."""
    lines = ["pitch   of gauge  step     rows told/published, thread packed as by the gauge"]
    for one in PATTERNS:
        pitch = one.pitch_mm()
        laid = f"{pitch:.2f} mm {pitch / one.packed_mm:7.2f}" if pitch else "--           --"
        lines.append(
            f"{laid}   {one.step_mm():.2f} mm {one.fits(one.packed_mm):5.1f} / {one.rows:2d}  {one.name} ({one.source})"
        )
    return "\n".join([*lines, *(f"   --   {why}" for why in UNDECIDED)])


def rules() -> str:
    """Each rule of steps: how far its counts are off, with thread packed as by the gauge and at its best hand."""
    lines = ["off at gauge   at best hand   rule"]
    for name, rule in RULES.items():
        best = min(HANDS, key=lambda hand: rms(misses(rule, float(hand))))
        figures = f"{rms(misses(rule, 1.0)):.3f}          {rms(misses(rule, float(best))):.3f} x {best:.2f}"
        lines.append(f"{figures}   {name}")
    return "\n".join(lines)


if __name__ == "__main__":
    from tests.reference.hands import coverage

    print(implied(), rules(), coverage(), sep="\n\n")
