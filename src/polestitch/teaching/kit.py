"""The kit list: everything that lies on the tables, for all students and the spares.

In: a class, the balls as worked out for each student.  Out: ``KitLine`` records in groups.

Spare kits are for the largest ball, so that each of them serves anybody.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil
from typing import Literal

from polestitch.document.said import near_length
from polestitch.errors import DesignError
from polestitch.estimate.amounts import skein_mm
from polestitch.estimate.hours import PRACTICE
from polestitch.teaching.cutting import Bundle, all_pieces, skeins_of
from polestitch.teaching.document import ClassSpec
from polestitch.winding.parts import made_of
from polestitch.winding.plan import Plan, winding
from polestitch.workup import WorkUp

Group = Literal["base", "thread", "tools", "paper"]
SHARED = 2  # students to one pair of scissors, tape or thimble tray; common practice, no source


@dataclass(frozen=True)
class KitLine:
    """One thing to bring: so many, or so much; ``of_spares`` are among them; ``colour`` where it is a thread."""

    group: Group
    what: str
    count: int | None
    amount: str
    note: str = ""
    colour: str = ""


def kit(spec: ClassSpec, works: Sequence[WorkUp], bundles: Sequence[Bundle]) -> tuple[KitLine, ...]:
    """The list; ``works`` and ``bundles`` are one a seat."""
    large = max(range(len(works)), key=lambda k: works[k].build.ball.around_mm)
    spares = spec.spare_kits
    balls = [*works, *[works[large]] * spares]
    cut = [*bundles, *[bundles[large]] * spares]
    return (*_base(spec, balls), *_threads(works[0], cut), *_tools(spec, balls), *_paper(spec, balls))


def _base(spec: ClassSpec, balls: Sequence[WorkUp]) -> Iterator[KitLine]:
    """What the balls are wound of, if they are wound in class or before it."""
    note = "Wound before the class." if spec.prepared.base or spec.prepared.pins or spec.prepared.marking else ""
    plans = [_plan(ball.build.ball.around_mm, spec.core) for ball in balls]
    if any(plan is None for plan in plans):
        yield KitLine("base", "Wound balls", len(balls), "", "Too small to plan the wraps here; weigh one you have.")
        return
    known = [plan for plan in plans if plan is not None]
    first, count = known[0], len(known)
    grams = sum(plan.core_grams.likely for plan in known), sum(plan.core_grams.high for plan in known)
    yield KitLine("base", f"Cores: {first.core.title}", count, _grams(*grams), note or first.core.hint)
    for k, stop in enumerate(first.stops):
        each = [plan.stops[k] for plan in known]
        grams = sum(one.grams.likely for one in each), sum(one.grams.high for one in each)
        metres = sum(one.metres.high for one in each if one.metres)
        length = f" (or {10 * ceil(metres / 10):,} m)" if metres else ""
        yield KitLine("base", stop.material.title.capitalize(), None, _grams(*grams) + length, stop.material.hint)


def _plan(around_mm: float, core: str) -> Plan | None:
    """How to wind it; None for a ball too small for its wraps."""
    try:
        return winding(around_mm, made_of(core))
    except DesignError:
        return None


def _grams(likely: float, high: float) -> str:
    return f"about {_near(likely)} g, up to {_near(high)} g"


def _near(grams: float) -> str:
    step = 5 if grams < 100 else 10 if grams < 1000 else 50
    return f"{step * ceil(grams / step):,}"


def _threads(work: WorkUp, bundles: Sequence[Bundle]) -> Iterator[KitLine]:
    design = work.build.design
    for k, thread in enumerate(design.threads):
        pieces = all_pieces(bundles, k)
        if not pieces:
            continue
        skein = skein_mm(thread)
        count = skeins_of(pieces, skein)
        long = near_length(skein, design.maker.units) if skein else ""
        note = f"skeins of {long}" if count is not None else "Nobody said how long a skein is."
        amount = f"{near_length(sum(pieces), design.maker.units)} in {len(pieces)} pieces"
        yield KitLine("thread", f"{thread.name}, {thread.size}", count, amount, note, str(thread.colour))


def _tools(spec: ClassSpec, balls: Sequence[WorkUp]) -> Iterator[KitLine]:
    kits = len(balls)
    most = max(len(ball.pins) for ball in balls)
    maker = balls[0].build.design.maker
    colours = len({thread for motif in balls[0].build.motifs for thread in motif.threads})
    each = max(1, colours) if maker.needles == "one a colour" else 1
    shared = ceil(spec.students / SHARED)
    rest = max(0, most - 2)
    yield KitLine("tools", "Needles", each * kits, "", "An eye that suits the thread; count them out and in.")
    yield KitLine("tools", "Pins with white heads", kits, "", "N, one a kit.")
    yield KitLine("tools", "Pins with black heads", kits, "", "S, one a kit.")
    if rest:
        yield KitLine("tools", "Pins with heads in other colours", rest * kits, "", f"{rest} a kit.")
    yield KitLine("tools", "Lidded boxes for pins and needles", kits, "", "One a kit, so that each counts her own.")
    yield KitLine("tools", "Small sharp scissors", shared, "", f"One to {SHARED} students. {PRACTICE.capitalize()}.")
    yield KitLine("tools", "Tapes or rulers", shared, "", f"One to {SHARED} students.")
    yield KitLine("tools", "Thimbles", spec.students, "", "In several sizes.")
    yield KitLine("tools", "Pliers, small", 1, "", "To pull a needle that is stuck.")


def _paper(spec: ClassSpec, balls: Sequence[WorkUp]) -> Iterator[KitLine]:
    yield KitLine("paper", "Paper strips with a name or number", spec.students, "", "Printed at 100 %; see the strips.")
    yield KitLine("paper", "Blank strips", len(balls), "", "3 mm wide, longer than the ball is round, to fold.")
    right = spec.students - spec.left_handed
    if right:
        yield KitLine("paper", "Handouts for the right hand", right + spec.spare_kits, "", "")
    if spec.left_handed:
        yield KitLine("paper", "Handouts for the left hand", spec.left_handed + 1, "", "One to spare.")
    yield KitLine("paper", "Pencils", spec.students, "", "")
