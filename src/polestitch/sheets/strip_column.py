"""One piece of the strip drawn at true size: two copies side by side, their labels between them.

In: ticks and a piece, in mm.  Out: a block whose top is the top of the cut outline.
"""

from collections.abc import Sequence

from polestitch.sheets.blocks import Block
from polestitch.sheets.sheet import BRASS, INK, QUIET, WHITE, Circle, Line, Mark, Path, Pen, Text, polygon, rectangle
from polestitch.sheets.ticks import Piece, Tick

WIDTH = 3.0  # makers' strips are about 3 mm wide
LABELS = 40.0  # between the two copies
COLUMN = 2 * WIDTH + LABELS
PIN_TAB, GLUE_TAB = 6.0, 10.0
CUT, LEADER, HATCH = Pen(INK, 0.15), Pen(QUIET, 0.12), Pen(QUIET, 0.1)
LABEL_PITCH = 3.2  # a line of label text
LABEL_SIZE, CODE_SIZE = 7.5, 5.0
JOINT_HEAD, JOINT_TAIL = 5.8, 3.2  # taken by a joint's half diamond and letter
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def column(marks: Sequence[Tick], cut: Sequence[Piece], number: int) -> Block:
    """Piece ``number`` of ``cut``, with its pin tab or glue tab."""
    piece = cut[number]
    top = PIN_TAB if number == 0 else 0.0  # of the piece itself; a later piece starts at its joint
    last = number == len(cut) - 1
    height = top + piece.end - piece.start + (0.0 if last else GLUE_TAB)
    here = [tick for tick in marks if piece.start - 1e-9 <= tick.at_mm <= piece.end + 1e-9]
    clear = (top if number == 0 else JOINT_HEAD, height if last else height - GLUE_TAB - JOINT_TAIL)
    drawn: list[Mark] = []
    for x in (0.0, COLUMN - WIDTH):
        drawn += _outline(x, height)
        drawn += _pin_tab(x, top) if number == 0 else _joint_head(x, LETTERS[number - 1])
        drawn += [] if last else _glue_tab(x, top + piece.end - piece.start, LETTERS[number])
        drawn += _ticks(here, x, top - piece.start, x > 0) + _codes(here, x, top - piece.start, clear)
    labelled = _thinned(here, height)
    drawn += _labels(labelled, [top - piece.start + tick.at_mm for tick in labelled], height)
    return Block(height, tuple(drawn))


def _outline(x: float, height: float) -> tuple[Mark, ...]:
    return (rectangle((x, 0.0, x + WIDTH, height), CUT, WHITE),)


def _pin_tab(x: float, top: float) -> tuple[Mark, ...]:
    """Paper above N for the pin to hold; the pin goes through the ring's middle, on N."""
    middle = x + WIDTH / 2
    return (
        Circle(middle, top, 0.7, Pen(BRASS, 0.2)),
        Text(middle, top - 1.6, "pin", "sans", CODE_SIZE, "middle", QUIET),
    )


def _joint_head(x: float, letter: str) -> tuple[Mark, ...]:
    middle = x + WIDTH / 2
    half = polygon(((middle - 0.8, 0.0), (middle + 0.8, 0.0), (middle, 1.2)), None, INK)
    return half, Text(middle, 3.2, letter, "sans bold", CODE_SIZE, "middle")


def _glue_tab(x: float, y: float, letter: str) -> tuple[Mark, ...]:
    """Below the joint, hatched; the diamond closes when the next piece's edge lies on the line."""
    middle = x + WIDTH / 2
    hatch = tuple(Line(x, y + 2.0 + k, x + WIDTH, y + 2.0 + k - 1.5, HATCH) for k in range(1, int(GLUE_TAB - 2)))
    return (
        *hatch,
        Line(x, y, x + WIDTH, y, Pen(INK, 0.15, (0.6, 0.4))),
        polygon(((middle - 0.8, y), (middle + 0.8, y), (middle, y - 1.2)), None, INK),
        Text(middle, y - 1.7, letter, "sans bold", CODE_SIZE, "middle"),
    )


def _ticks(here: Sequence[Tick], x: float, shift: float, mirrored: bool) -> list[Mark]:
    """Ticks across the strip; a pin's exact place comes from the label side, the rule's from the other."""
    near, far = (x, x + WIDTH) if mirrored else (x + WIDTH, x)
    inward = (far - near) / WIDTH
    return [mark for tick in here for mark in _tick(tick, tick.at_mm + shift, near, far, inward)]


def _codes(here: Sequence[Tick], x: float, shift: float, clear: tuple[float, float]) -> list[Mark]:
    """A letter or number above each tick, where it touches neither the tick before nor a joint's letter."""
    before = [tick.at_mm for tick in here]
    found = []
    for tick, above in zip(here, [-9.0, *before]):
        y = tick.at_mm + shift
        if tick.code and tick.at_mm - above > 2.6 and clear[0] < y <= clear[1]:
            found.append(Text(x + WIDTH / 2, y - 0.5, tick.code, "sans bold", CODE_SIZE, "middle"))
    return list(found)


def _tick(tick: Tick, y: float, near: float, far: float, inward: float) -> tuple[Mark, ...]:
    if tick.kind == "pole":
        return (Line(near, y, far, y, Pen(INK, 0.3)),)
    if tick.kind == "quarter":
        flag = polygon(((near, y), (near + inward * 1.1, y), (near, y + 1.1)), None, INK)
        return Line(near, y, far, y, Pen(INK, 0.2)), flag
    if tick.kind == "pin":
        return Line(near, y, near + inward * 1.5, y, Pen(BRASS, 0.2)), Circle(
            near + inward * 0.75, y, 0.45, None, BRASS
        )
    if tick.kind == "rule":
        return (Line(far, y, far - inward * 1.5, y, Pen(BRASS, 0.2)),)
    return (Line(near, y, near + inward * 1.5, y, Pen(INK, 0.15)),)


def _thinned(here: Sequence[Tick], height: float) -> list[Tick]:
    """The ticks that get a label: all but, where there is no room, every second, third … plain line."""
    named = [tick for tick in here if tick.kind != "line"]
    plain = [tick for tick in here if tick.kind == "line"]
    room = max(int(height / LABEL_PITCH) - len(named), 1)
    every = -(-len(plain) // room)
    return sorted([*named, *plain[:: max(every, 1)]], key=lambda tick: tick.at_mm)


def _labels(labelled: Sequence[Tick], wanted: Sequence[float], height: float) -> list[Mark]:
    """Name and millimetres of each tick, with leaders to both copies."""
    left, right = WIDTH, COLUMN - WIDTH
    drawn: list[Mark] = []
    for tick, y, at in zip(labelled, spread(wanted, LABEL_PITCH, 1.2, height - 0.5), wanted):
        bold = tick.kind in ("pole", "quarter")
        colour = BRASS if tick.kind in ("pin", "rule") else INK
        drawn += [
            Path((left + 0.3, at), ((left + 2.0, at), (left + 3.5, y)), LEADER),
            Path((right - 0.3, at), ((right - 2.0, at), (right - 3.5, y)), LEADER),
            Text(left + 4.2, y + 0.9, tick.label, "sans bold" if bold else "sans", LABEL_SIZE, "start", colour),
            Text(right - 4.2, y + 0.9, f"{tick.at_mm:.1f}", "sans", LABEL_SIZE, "end", colour),
        ]
    return drawn


def spread(wanted: Sequence[float], pitch: float, low: float, high: float) -> list[float]:
    """Places as near to ``wanted`` (ascending) as they can be, ``pitch`` apart and inside (low, high).

    Neighbours that would touch form a group that stands centred on its members' mean wish.
    """
    groups: list[list[float]] = []  # each: mean wish of its members, how many
    for wish in wanted:
        groups.append([wish, 1.0])
        while len(groups) > 1 and _first(groups[-2], pitch) + groups[-2][1] * pitch > _first(groups[-1], pitch):
            (mean_a, n_a), (mean_b, n_b) = groups[-2], groups[-1]
            groups[-2:] = [[(mean_a * n_a + mean_b * n_b) / (n_a + n_b), n_a + n_b]]
    places = [_first(group, pitch) + k * pitch for group in groups for k in range(int(group[1]))]
    for k in range(len(places)):  # push down from the top edge, then up from the bottom one
        places[k] = max(places[k], low + k * pitch)
    for k in range(len(places)):
        places[-1 - k] = min(places[-1 - k], high - k * pitch)
    return places


def _first(group: Sequence[float], pitch: float) -> float:
    """Where a group's first member stands."""
    return group[0] - (group[1] - 1) * pitch / 2
