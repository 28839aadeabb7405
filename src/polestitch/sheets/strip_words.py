"""What the strip's sheet says: check the print, use the strip, the division's distances, fold a blank one.

In: the marking and the circumference.  Out: blocks one column wide.
"""

from dataclasses import replace

from polestitch.marking.marking import Marking
from polestitch.marking.pins import RULES
from polestitch.sheets.blocks import Block, Style, numbered, paragraph, space
from polestitch.sheets.sheet import BRASS, HAIR, INK, QUIET, Line, Mark, Pen, Text
from polestitch.sheets.ticks import RULE_WORDS, pin_distance_mm

TITLE = Style("serif bold", 22, 27)
LEAD = Style("serif", 10.5, 14, QUIET)
HEAD = Style("sans bold", 8.5, 13, BRASS)
TEXT = Style("serif", 9.5, 12.6)
FIGURE = Style("sans", 8.5, 12.6)
HANG = 5.5

CHECK = (
    "Print at 100 %, with “fit to page” off.",
    "Lay a steel ruler on both check lines. Each is 200 mm from end to end.",
    "If one is more than half a millimetre out, print again with scaling off: the error would be as large as that of "
    "the makers’ rules.",
    "Some printers cut off the ends of the line across. Then its inner ticks must be 180 mm apart.",
)
USE = (
    "Cut one strip out along its outline. The second copy is a spare.",
    "Put a white-headed pin through the ring at N, straight down. It stays until the marking is finished.",
    "Swing the strip round the ball. Its lower end must come back to the pin. If it does not in several directions, "
    "measure the ball again and print a new strip.",
    "Put the black-headed pin at S. Check it from three or four directions and set it in the middle of the errors.",
    "Put pins at the quarter marks: this is the obi. Then use the line marks along the obi, line 1 on your first pin.",
)
FOLD = (
    "Cut a strip 3 mm wide and longer than the ball is round. Pin one end at N, lay it round, and trim it at the pin.",
    "Fold it in half, end to end, and nick the fold: S.",
    "Fold the halves together and nick the folds: the obi.",
)
CAUTIONS = (
    "This strip fits one ball and one N. A new N needs a new strip.",
    "Count your pins before and after. Keep pins and needles away from children and animals.",
)


def words(marking: Marking, around_mm: float, parts: int, width: float) -> list[Block]:
    """Everything the sheet says, in blocks that may be parted between pages."""
    name = marking.division
    return [
        paragraph("Paper strip", width, TITLE),
        paragraph(f"{name} on a ball {around_mm:g} mm round. The strip is at true size.", width, LEAD),
        *numbered_list("Check the print", CHECK, width),
        *(numbered_list("Join the pieces", join(parts), width) if parts > 1 else []),
        *numbered_list("Use the strip", USE, width),
        *_distances(marking, around_mm, width),
        *numbered_list("Fold a blank strip instead", (*FOLD, *_folds(len(marking.spokes["N"]), around_mm)), width),
        *numbered_list("Take care", CAUTIONS, width),
    ]


def numbered_list(head: str, items: tuple[str, ...], width: float) -> list[Block]:
    """Numbered sentences under a head, kept together."""
    first, *rest = (numbered(str(n), item, width, TEXT, HANG) for n, item in enumerate(items, 1))
    opening = Block(
        5.0 + HEAD.line_mm + first.height,
        (*paragraph(head, width, HEAD).at(0, 4.4), *first.at(0, 5.0 + HEAD.line_mm)),
    )
    *kept, last = opening, *(_spaced(block) for block in rest)
    return [*(replace(block, keep=True) for block in kept), last]


def _spaced(block: Block) -> Block:
    return Block(block.height + 0.9, block.at(0, 0.9))


def join(parts: int) -> tuple[str, ...]:
    """How a strip in so many pieces becomes one."""
    letters = "A on A" if parts == 2 else "A on A, B on B and so on"
    return (
        f"The strip is longer than the page, so it comes in {parts} pieces.",
        f"Lay the cut end of the next piece on the dashed line, {letters}: the two halves close to a diamond. "
        "Glue it down on the hatched tab.",
    )


def _distances(marking: Marking, around_mm: float, width: float) -> list[Block]:
    """A small table: the parts of C this division needs, in mm."""
    ways = len(marking.spokes["N"])
    rows = [("Half, N to S", around_mm / 2, ""), ("Quarter, N to obi", around_mm / 4, "")]
    rows.append((f"Line to line on the obi, 1/{ways}", around_mm / ways, ""))
    exact = pin_distance_mm(marking, around_mm)
    if exact is not None:
        rule, part = RULE_WORDS[marking.division], RULES[marking.division]
        rows.append(("Pole to pin", exact, f"{exact / around_mm:.6f} C"))
        late = part * around_mm - exact
        rows.append((f"… by the rule {rule}", part * around_mm, f"{late:.2f} mm long" if late > 0.005 else "exact"))
    lines = [replace(_row(*row, width), keep=True) for row in rows]
    return [Block(5.0 + HEAD.line_mm, paragraph("Distances", width, HEAD).at(0, 4.4), keep=True), *lines, space(1.0)]


def _row(name: str, mm: float, note: str, width: float) -> Block:
    y, style = FIGURE.drop_mm, FIGURE
    narrow = width < 85
    height = style.line_mm * (2 if narrow and note else 1)
    marks: list[Mark] = [
        Text(0.0, y, name, "sans", style.size, "start", INK),
        Text(width if narrow else width - 30, y, f"{mm:.2f} mm", "sans bold", style.size, "end", INK),
        Line(0.0, height, width, height, Pen(HAIR, 0.15)),
    ]
    if note:
        marks.append(Text(width, y + height - style.line_mm, note, "sans", style.size, "end", QUIET))
    return Block(height + 0.3, tuple(marks))


def _folds(ways: int, around_mm: float) -> tuple[str, ...]:
    """How to find the n-th marks on a blank strip: folding as far as halves go, then measuring."""
    halvings = (ways & -ways).bit_length() - 1
    odd = ways >> halvings
    step = around_mm / ways
    if odd == 1:
        if halvings <= 2:
            return ()
        again = "once more" if halvings == 3 else f"{halvings - 2} times more"
        return (f"Fold {again} and nick each fold: {ways} parts of {step:.1f} mm.",)
    start = "the whole strip" if halvings == 0 else f"each {('half', 'quarter', 'eighth', 'sixteenth')[halvings - 1]}"
    return (
        f"Parts of {odd} cannot be folded well. Divide {start} into {odd} with a ruler: a mark every {step:.1f} mm. "
        "Measure from one end each time, not from mark to mark, so that no error adds up.",
    )
