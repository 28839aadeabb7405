"""What is told of a hand before and after measuring, held against published counts and lengths and simulated makers.

``python -m tests.reference.published`` prints its tables too.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from scipy.stats import t

from polestitch.document.ranges import INSIDE, Range, Z
from polestitch.doubt import spread_of
from polestitch.hand import Evidence, Hand, Known, learned
from polestitch.hand.hand import PIECE_SCATTER, PUBLISHED, STEP_MM
from polestitch.hand.sampler import ERROR_MM, SQUARE_STEP
from tests.reference.patterns import PATTERNS, PEARL_5, Pattern

# A yarn darner no. 18 is about 1.27 mm thick: from memory.
NEEDLE_MM = 1.27
# Patterns whose count hangs on how wide thread lies, and those where points take the maker's step.
PITCH_DECIDES = ("spindles, ten", "five-point", "petals of two strands on C10", "pentagons inward", "small pentagons")
STEP_DECIDES = ("tips of the same", "petals from")


@dataclass(frozen=True)
class Held:
    """A published figure and the range told of it before any measuring."""

    name: str
    published: float
    told: Range

    @property
    def inside(self) -> bool:
        """Whether the range holds it."""
        return self.told.low <= self.published <= self.told.high

    @property
    def width(self) -> float:
        """The range's width as a share of its likely figure."""
        return (self.told.high - self.told.low) / self.told.likely


def rows_told(pattern: Pattern, hand: Hand) -> Range:
    """Rows as a real number, by ``hand``: found as ``doubt`` finds them."""

    def fits(pitch: float = 0.0, step: float = 0.0) -> float:
        found = pattern.fits(hand.pitch.at(pitch) * pattern.packed_mm, hand.step.at(step))
        return min(found, 4.0 * pattern.rows)

    likely = fits()
    respects = [[fits(pitch=way) - likely for way in (-Z, Z)], [fits(step=way) - likely for way in (-Z, Z)]]
    return spread_of(likely, respects)


def held(hand: Hand = PUBLISHED) -> tuple[Held, ...]:
    """Every published count and length there is."""
    pitch = hand.pitch.range.times(PEARL_5)
    lengths = (
        Held("pitch of pearl 5 by a gauge (temarikai.com/ResourcesPages/threadgauges.html)", PEARL_5, pitch),
        Held("step at points, about 2 mm (temarikai.com/HowToPages/stretchpoints.html)", 2.0, hand.step.range),
        Held("step at tips, two needles (offthegridneedlearts.com/?p=439)", 2 * NEEDLE_MM, hand.step.range),
    )
    return (*(Held(one.name, one.rows, rows_told(one, hand).whole()) for one in PATTERNS), *lengths)


def sampler(maker: tuple[float, float], chance: np.random.Generator, steps: int = 2) -> list[Evidence]:
    """What a maker of this pitch factor and step reads on a sampler: four corners of a square, two points."""
    piece = np.exp(chance.normal(0, PIECE_SCATTER, 2))
    square, point = SQUARE_STEP * PEARL_5 * maker[0] * piece[0], maker[1] * piece[1]
    read = [
        (square * steps + chance.normal(0, ERROR_MM, 4).mean(), ERROR_MM / 2),
        (point * steps + chance.normal(0, ERROR_MM, 2).mean(), ERROR_MM / np.sqrt(2)),
    ]
    wanted: list[Callable[[float, float], float]] = [
        lambda factor, step: SQUARE_STEP * PEARL_5 * factor * steps,
        lambda factor, step: step * steps,
    ]
    return [Evidence(mm, float(error), each) for (mm, error), each in zip(read, wanted)]


def makers(count: int, seed: int = 1) -> Iterator[tuple[tuple[float, float], np.random.Generator]]:
    """Makers drawn from what published work implies."""
    chance = np.random.default_rng(seed)
    for _ in range(count):
        lasting = [np.sqrt(known.scatter**2 - PIECE_SCATTER**2) for known in (PUBLISHED.pitch, PUBLISHED.step)]
        middle = (PUBLISHED.pitch.middle, PUBLISHED.step.middle)
        logs = chance.normal(np.log(middle), lasting)
        yield (float(np.exp(logs[0])), float(np.exp(logs[1]))), chance


def back_test(count: int, samplers: int) -> tuple[float, float]:
    """Share of held-out pieces (a pitch and a step each) inside the range told, and the ranges' mean width."""
    inside, width = [], []
    for maker, chance in makers(count):
        seen = [one for _ in range(samplers) for one in sampler(maker, chance)]
        hand = learned(PUBLISHED, seen)
        for true, known in zip(maker, (hand.pitch, hand.step)):
            piece = true * np.exp(chance.normal(0, PIECE_SCATTER))
            inside.append(known.range.low <= piece <= known.range.high)
            width.append((known.range.high - known.range.low) / known.middle)
    return float(np.mean(inside)), float(np.mean(width))


def row_stands(pattern: Pattern, row: int, mm: float, error_mm: float = 1.0) -> Evidence:
    """A row of a known motif stands ``mm`` from where its first row stands."""

    def wanted(factor: float, step: float) -> float:
        gone = pattern.gone(factor * pattern.packed_mm, step, row)
        return float(gone[-1] - gone[0])

    return Evidence(mm, error_mm, wanted)


def same_maker(first: int, second: int) -> tuple[Held, Held]:
    """A pattern's count told before and after one other pattern of the same maker was known."""
    known, asked = PATTERNS[first], PATTERNS[second]
    gone = known.end(known.packed_mm) - known.gone(known.packed_mm, 2.0, 1)[0]
    hand = learned(PUBLISHED, [row_stands(known, known.rows, float(gone))])
    before, after = (Held(asked.name, asked.rows, rows_told(asked, each).whole()) for each in (PUBLISHED, hand))
    return before, after


def fitted(values: Sequence[float]) -> Known:
    """The next value as few foretell it: Student's law of the logarithm, as a normal one of the same four fifths."""
    logs, count = np.log(values), len(values)
    reach = t.ppf((1 + INSIDE) / 2, count - 1) / Z
    return Known(float(np.exp(logs.mean())), float(logs.std(ddof=1) * np.sqrt(1 + 1 / count) * reach))


def implied_pitches(but: str = "") -> dict[str, float]:
    """Pitch over the gauge's by pattern, where it decides the count, and the gauge itself; ``but`` one left out."""
    decided = [one for one in PATTERNS if one.name.startswith(PITCH_DECIDES) and one.name != but]
    found = {one.name: (one.pitch_mm(STEP_MM) or 0.0) / one.packed_mm for one in decided}
    return {"the gauge": 1.0, **{name: factor for name, factor in found.items() if factor}}


def implied_steps(but: str = "") -> dict[str, float]:
    """Steps in size 5, mm, where the step decides, and what two pages say in words; ``but`` one left out."""
    decided = [one for one in PATTERNS if one.name.startswith(STEP_DECIDES) and one.name != but]
    words = {"about 2 mm": 2.0, "two needles": 2 * NEEDLE_MM}
    return {**{one.name: one.step_mm() for one in decided}, **words}


def without(pattern: Pattern) -> Hand:
    """The hand that published work would imply had this pattern not been published."""
    pitch, step = (fitted(list(found(pattern.name).values())) for found in (implied_pitches, implied_steps))
    return replace(PUBLISHED, pitch=pitch, step=step)


def coverage() -> str:
    """Published figures against the ranges told before any measuring, in plain text."""
    found, left_out = held(), held_out()
    lines = ["published  told before measuring"]
    for one in found:
        told = f"{one.told.likely:.3g} ({one.told.low:.3g} to {one.told.high:.3g})"
        lines.append(f"{one.published:8.3g}   {told:24s} {'inside ' if one.inside else 'OUTSIDE'} {one.name}")
    lines.append(f"{_inside(found)}, told for 80 %")
    lines.append(f"each count told by a hand fitted without it: {_inside(left_out)}")
    for samplers in (0, 1, 3):
        inside, wide = back_test(400, samplers)
        lines.append(f"simulated makers after {samplers} samplers: {inside:.0%} inside, ranges {wide:.0%} wide")
    return "\n".join(lines)


def held_out() -> tuple[Held, ...]:
    """Every published count, told by a hand that was fitted without it."""
    return tuple(Held(one.name, one.rows, rows_told(one, without(one)).whole()) for one in PATTERNS)


def _inside(found: Sequence[Held]) -> str:
    share, width = np.mean([one.inside for one in found]), np.mean([one.width for one in found])
    return f"{share:.0%} of {len(found)} inside, ranges {width:.0%} of their figure wide"
