"""Threads: enough of each, seen against the ground, and of a width that is known.

In: a build, and what the estimate says is needed.  Out: findings.
"""

from collections.abc import Iterator, Mapping

from polestitch.checks.finding import Finding, Made, said
from polestitch.document.threads import pitch_mm

# Above this ratio of luminance the step is plain in any light, so the colour itself needs no looking at.
PLAIN_STEP = 2.0
# Colours nearer than this (CIEDE2000) melt together at arm's length.  Common practice, no source.
MELTING = 15.0
# Weight says little of width: published diameters of one tex differ by a fifth.
BY_WEIGHT = 0.2


def short_threads(made: Made, needed_mm: Mapping[str, float]) -> Iterator[Finding]:
    """Threads of which she has less than the ball takes."""
    for thread in made.design.threads:
        have = None if thread.have is None else thread.have.mm
        need = needed_mm.get(thread.name, 0.0)
        if have is not None and have < need:
            sentence = (
                f"You have {said(made, have)} of {thread.name} and need {said(made, need)}, ends and joins included: "
                f"it runs out {said(made, need - have)} before the end. "
                "Buy more of the same dye lot before you begin, or take fewer rows of it."
            )
            yield Finding("thread short", "stop", sentence, address=thread.name)


def luminance(rgb: tuple[int, int, int]) -> float:
    """Relative luminance of an sRGB colour (WCAG 2.2), 0 to 1."""
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in (byte / 255 for byte in rgb)]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def tonal_step(one: tuple[int, int, int], other: tuple[int, int, int]) -> float:
    """Contrast ratio of two colours (WCAG 2.2): 1 for the same lightness, 21 for black on white."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def colour_difference(one: str, other: str) -> float:
    """CIEDE2000 of two hexadecimal colours; loads coloraide."""
    from coloraide import Color

    return float(Color(one).delta_e(other, method="2000"))


def faint_threads(made: Made) -> Iterator[Finding]:
    """Stitched threads that are lost on the ground: neither lighter or darker nor of another colour."""
    ground = made.design.ball.colour
    used = sorted({thread for motif in made.motifs for thread in motif.threads})
    for thread in (made.design.threads[k] for k in used):
        if tonal_step(thread.colour.rgb, ground.rgb) >= PLAIN_STEP:
            continue
        difference = colour_difference(thread.colour, ground)
        if difference < MELTING:
            sentence = (
                f'The thread "{thread.name}" is close to the ground in colour and lightness: a motif in it is lost '
                "from arm's length. Stitch two rows and look, or take a clearly lighter or darker thread."
            )
            yield Finding("low contrast", "care", sentence, address=thread.name)


def guessed_widths(made: Made) -> Iterator[Finding]:
    """One note for all threads whose width is reckoned from their weight."""
    used = sorted({thread for motif in made.motifs for thread in motif.threads})
    threads = [made.design.threads[k] for k in used]
    mine = made.design.maker.measures
    guessed = [thread.name for thread in threads if "formula" in pitch_mm(thread, measures=mine).source]
    if guessed:
        rows = max(len(motif.rows) for motif in made.motifs)
        sentence = (
            f"The width of {', '.join(guessed)} is reckoned from its weight and may be a fifth out: "
            f"{rows} rows can end {max(1, round(rows * BY_WEIGHT))} rows too early or too late. "
            "Wind it ten times round a ruler, count the threads in a centimetre, and give that as rows_per_cm."
        )
        yield Finding("width uncertain", "note", sentence, address=guessed[0])
