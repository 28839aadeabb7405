"""Steps round the stitching: winding the base, marking it, finishing; and the cautions.

In: the build, its pin plan and the marking thread's route.  Out: lines of instruction.
Winding after temarikai.com/HowToPages/wrappingmari.html and japanesetemari.com/how.to.make.a.temari.ball.html;
the paper strip after temarikai.com/HowToPages/dividingmarkinghelp.html.
"""

from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet
from itertools import groupby

from polestitch.document.said import Units, in_short, listed, near_length, set_length
from polestitch.laying.built import Stitched
from polestitch.marking.pins import Pin
from polestitch.marking.route import Piece, Route, Run
from polestitch.steps.corners import the
from polestitch.steps.step import Line

# A rule of thumb this near to the exact distance is the same pin.
MOST_WORDS, IN_A_BREATH = 30, 6  # a longer list of names is told six at a time
RULE_SHOWS_MM = 0.05

CAUTIONS = (
    "Needles and pins stay sharp inside soft work. Count your pins before you begin and again at the end.",
    "A long needle can stab through a small ball. Hold the ball beside the stitch, never behind it.",
    "Pins, bells and beads are small parts. Keep the work away from small children and animals.",
    "Do not give a ball with loose pins, beads or small bells to a young child. "
    "For a toy, ask what your local toy-safety rules say.",
    "Heat rice hulls in small lots and keep them in a closed jar before use, or insects can appear. "
    "Stay with them: dry hulls can scorch.",
    "Wire ends and metallic thread can scratch skin and eyes. Turn every end into the wrap.",
    "Pulling many tight stitches strains hands and thumbs. Rest often, and ask a doctor when pain stays.",
    "For a show, ask the organiser what the rules say about labels, hanging and fire safety.",
)


def base_lines(made: Stitched) -> Iterator[Line]:
    """Winding the ball, from the core to the last measure."""
    units = made.design.maker.units
    around, through = made.ball.around_mm, 2 * made.ball.radius_mm
    yield Line(
        f"Aim for a ball {near_length(around, units)} round, which is {near_length(through, units)} through the middle."
    )
    yield Line("Take a core 1 to 2 cm less than that through the middle: hulls in a thin bag, a soft wad, or foam.")
    yield Line("If the core is in a plastic bag, prick the bag so that air can escape.")
    yield Line("Wind thick yarn round the core, turning the ball in every direction.")
    yield Line("Change to thin yarn for the last layer. Lumps in thick yarn cannot be put right later.")
    yield Line("Roll the ball between your palms now and then. Press down a bump and wind beside it for a while.")
    yield Line(
        "Wind one strand of sewing thread at random in all directions, until no yarn shows. "
        "Never lay it parallel: threads that cross hold the stitches."
    )
    yield Line("Keep the tension moderate. The ball should spring a little, and a needle must go in easily.")
    yield Line("Thread the end into a needle and take it under the wrap three times.")
    yield Line(
        "Measure round the ball in two directions over the poles and once round the middle. "
        f"This booklet is for {near_length(around, units)}: give your own measure if it differs."
    )


def marking_lines(made: Stitched, pins: Sequence[Pin], route: Route) -> Iterator[Line]:
    """The paper strip, the pins, the marking thread, the tacks."""
    yield from _strip_lines()
    yield from _pin_lines(made, pins)
    yield from _support_lines(made)
    yield Line("Set every pin straight down into the ball. Lead the thread past all pins on the same side.")
    yield from _thread_lines(made, route, {pin.point for pin in pins})
    if route.tacks:
        yield from _tack_lines(route)
    else:
        yield Line("Lay no marking thread. Leave the pins in until the stitches beside them hold.")
    helpers = [pin.point for pin in pins if pin.helper]
    if helpers and route.tacks:
        yield Line(f"Take out the pins at {in_short(helpers)}. They only helped to find the others.")


def _tack_lines(route: Route) -> Iterator[Line]:
    yield Line("Straighten the lines by eye and with the tape before you tack.")
    yield Line(
        f"Tack the crossings in this order: {in_short(route.tacks)}. Come up in one corner of the crossing, go "
        "straight over it, and down in the opposite corner."
    )


def _strip_lines() -> Iterator[Line]:
    yield Line("Cut a straight paper strip about 3 mm wide and longer than the ball is round.")
    yield Line("Pin one end to the ball with a white-headed pin. This is N; leave it in until the marking is finished.")
    yield Line("Swing the strip round the ball in several directions. Trim it to the length that goes round once.")
    yield Line("Fold the strip in half and nick the fold.")
    yield Line("Lay it round the ball. Set a black-headed pin at the nick: this is S.")
    yield Line("Check S from three or four directions. Move the pin to the middle of the errors.")


def _pin_lines(made: Stitched, pins: Sequence[Pin]) -> Iterator[Line]:
    """Pins with the same first measure are told together."""
    units = made.design.maker.units
    rest = [pin for pin in pins if pin.measured and pin.point not in ("N", "S")]
    for (anchor, _), group in groupby(rest, key=lambda pin: (pin.measured[0].point, round(pin.measured[0].mm, 1))):
        alike = list(group)
        first = alike[0].measured[0]
        named = [_named(pin) for pin in alike]
        size = len(named) if len(" ".join(named).split()) <= MOST_WORDS else IN_A_BREATH
        names = "; ".join(listed(named[k : k + size]) for k in range(0, len(named), size))
        plural = "s" if len(alike) > 1 else ""
        yield Line(f"Set the pin{plural} for {names}: {set_length(first.mm, units)} from {anchor} ({first.recipe}).")
        if first.rule_off_mm is not None and abs(first.rule_off_mm) > RULE_SHOWS_MM:
            yield Line(f"By the makers' rule that distance is {set_length(first.mm + first.rule_off_mm, units)}.")
        yield from _second_measures(alike, made)
    checks = [check for pin in rest for check in pin.check]
    if checks:
        yield Line(_check_line(rest, units))


def _named(pin: Pin) -> str:
    return f"{pin.point} on {pin.on}" if pin.on and not pin.point.startswith("obi") else pin.point


def _second_measures(alike: Sequence[Pin], made: Stitched) -> Iterator[Line]:
    """The other measure of each pin, told together for those measured from the same pin."""
    units = made.design.maker.units
    by_anchor: dict[str, dict[float, list[str]]] = {}
    for pin in alike:
        for distance in pin.measured[1:]:
            by_anchor.setdefault(distance.point, {}).setdefault(round(distance.mm, 1), []).append(pin.point)
    apart = {mm for distances in by_anchor.values() for mm in distances}
    if len(apart) == 1 and len(by_anchor) == len(alike) > 1:
        yield Line(
            f"Each stands {set_length(apart.pop(), units)} from these, in the same order: {listed([*by_anchor])}."
        )
        return
    for anchor, distances in by_anchor.items():
        said = [f"{listed(names)} {set_length(mm, units)}" for mm, names in distances.items()]
        yield Line(f"From {anchor} they stand: {'; '.join(said)}.")


def _check_line(pins: Sequence[Pin], units: Units) -> str:
    """What should come out equal, once for each distance."""
    found = {round(check.mm, 1): (pin.point, check) for pin in pins for check in pin.check}
    said = [f"{pin} to {check.point} {set_length(check.mm, units)}" for pin, check in list(found.values())[:3]]
    return f"Check: {listed(said)}. Like distances must come out equal all round; move the pins until they do."


def _support_lines(made: Stitched) -> Iterator[Line]:
    """Where lines that only help to place stitches run."""
    for support in made.design.marking.support:
        name = f'the support line "{support.name}"'
        if support.between is not None and support.step is not None:
            first, last = support.between
            on = f"{support.step} further on" if support.step else "of the same number"
            yield Line(f"Lay {name} from each corner of {first} to the corner of {last} {on}, to the right.")
        elif support.between is not None:
            yield Line(f"Set pins for {name} at its ends, {listed(support.between)}.")
        elif support.corners is None:
            yield Line(f"Set pins for {name} on every line of {support.around}, {support.at} along it.")
        else:
            yield Line(f"Set pins for {name} on {support.corners} lines of {support.around}, {support.at} along each.")


def _thread_lines(made: Stitched, route: Route, pinned: AbstractSet[str]) -> Iterator[Line]:
    name = made.design.marking.thread or "a thin thread, in the colour of the ground if the lines are to vanish,"
    pieces = (*route.pieces, *route.support)
    for n, piece in enumerate(pieces, 1):
        many = f" piece {n} of {len(pieces)}:" if len(pieces) > 1 else ""
        length = near_length(piece.mm, made.design.maker.units)
        yield Line(f"Cut{many} {length} of {name} for the marking, or leave it on the reel.".replace(",,", ","))
        yield from _way(piece, made, pinned)


def _way(piece: Piece, made: Stitched, pinned: AbstractSet[str]) -> Iterator[Line]:
    first = piece.runs[0]
    start = first.points[0] if first.points else "the start of the line"
    yield Line(f"Run the needle under the wrap and come up at {start}.")
    for run in piece.runs:
        yield Line(f"Lay the thread {_along(run, made, pinned)}.")
    yield Line("Take a small stitch there, run the end under the wrap, and cut it close.")


def _along(run: Run, made: Stitched, pinned: AbstractSet[str]) -> str:
    """The way of one run; on it only the pins that guide the thread are named, if there are any."""
    guides = tuple(name for name in run.points[1:-1] if name in pinned) or run.points[1:-1]
    past = f", past {in_short(guides)}" if guides else ""
    if len(run.points) > 2 and run.points[0] == run.points[-1]:
        return f"once round along {_line(run.line, made)}{past}, back to {run.points[-1]}"
    end = f", to {run.points[-1]}" if run.points else ""
    return f"along {_line(run.line, made)}{past}{end}"


def _line(name: str, made: Stitched) -> str:
    return f'the support line "{name}"' if any(s.name == name for s in made.design.marking.support) else the(name)


def finish_lines(made: Stitched) -> Iterator[Line]:
    """From the last thread to the finished ball."""
    removed = [line.name for line in made.design.marking.support if line.removed]
    if made.marking.removed and made.marking.laid:
        yield Line("Snip the marking lines between the stitches and draw every piece out. The ball shows none of them.")
    if removed:
        yield Line(f"Take out the support lines that were only a help: {listed(removed)}.")
    yield Line("Look over every span. Slide a loose one back beside its row with the eye of the needle.")
    yield Line("Push any thread end that shows under the wrap, again with the eye end.")
    yield Line("Take out every pin, and count them.")
    yield Line("Roll the ball once between clean palms.")
    yield Line("Write down what you changed: ball size, threads, rows. It is the pattern for your next one.")
    yield Line("Keep the finished ball away from direct sun, damp and dust.")
