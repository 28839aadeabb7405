"""The design document as frozen records, in the order a maker works: ball, threads, marking, layers.

In: nothing.  Out: pydantic models (``extra="forbid"``) that validate, and give the JSON Schema.
A layer's ``params`` stay raw JSON here: the technique reads them when the ball is built, so this
room never changes for a new technique.
"""

import re
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, WithJsonSchema

from polestitch.document.colours import Colour
from polestitch.document.lengths import Length
from polestitch.document.limits import LARGEST_AROUND_MM, SMALLEST_AROUND_MM
from polestitch.document.meant import MeantOfLayer, MeantOfThread

FORMAT: Literal[1] = 1
Name = Annotated[str, Field(min_length=1, max_length=60)]


class Record(BaseModel):
    """A frozen record that refuses words it does not know."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)


class Measured(Record):
    """What she measured on the wound ball; more than one pole-to-pole reading shows the roundness."""

    pole_to_pole: Annotated[
        tuple[Length, ...], Field(max_length=32, description="Circumferences through both poles, in several directions")
    ] = ()
    obi: Annotated[tuple[Length, ...], Field(max_length=32, description="Circumferences along the equator")] = ()


class BallSpec(Record):
    """The wound ball."""

    around: Annotated[
        Length,
        Field(description=f"Planned circumference, from {SMALLEST_AROUND_MM:g} mm to {LARGEST_AROUND_MM:g} mm"),
    ]
    measured: Annotated[Measured, Field(description="What was measured on the wound ball, if anything")] = Measured()
    colour: Annotated[Colour, Field(description="Colour of the thread wrap, the ground")] = Colour("#2b2f3a")


class Reading(Record):
    """A length of her own, and how far it scatters."""

    length: Annotated[Length, Field(description="What it usually is")]
    spread: Annotated[Length, Field(description="One standard deviation: two of three come within it")]


class Measures(Record):
    """What her hand really does, as measured; ``polestitch hand`` works it out from a sampler and finished rows."""

    pitch: Annotated[
        dict[Name, Reading],
        Field(max_length=200, description="Width of one thread as she lays it, by the thread's name or size"),
    ] = {}
    step: Annotated[Reading | None, Field(description="From row to row at a narrow point, in size 5")] = None
    bite: Annotated[Reading | None, Field(description="Whole width of a plain bite")] = None
    dip: Annotated[Reading | None, Field(description="How deep the needle goes under a bite")] = None


class Maker(Record):
    """How this maker works; every default is a starting point to be corrected by her own hands."""

    hand: Annotated[Literal["right", "left"], Field(description="The hand that holds the needle")] = "right"
    units: Annotated[Literal["mm", "in"], Field(description="What sheets are written in")] = "mm"
    friction: Annotated[
        float, Field(gt=0, le=2, description="Thread on wrap; no unit. 0.15 to 0.5 is the published band")
    ] = 0.3
    working_length: Annotated[Length, Field(description="Thread cut at a time")] = Length("1 m")
    stretch: Annotated[Length, Field(description="Step at a narrow tip, about 2 mm in size 5")] = Length("2 mm")
    bite: Annotated[Length, Field(description="Whole width of a plain bite, 2 mm or less")] = Length("1.5 mm")
    dip: Annotated[Length, Field(description="How deep the needle goes under a bite")] = Length("1 mm")
    ends: Annotated[Length, Field(description="Thread run under the wrap at each start and each end")] = Length("40 mm")
    placing: Annotated[Length, Field(description="How far off a measured pin usually lands")] = Length("0.5 mm")
    needles: Annotated[
        Literal["one", "one a colour"],
        Field(description="one a colour: a thread waits on its own needle while others are worked"),
    ] = "one"
    measures: Annotated[Measures | None, Field(description="Her own hand, measured; none: as published work goes")] = (
        None
    )

    @property
    def own_step(self) -> Length:
        """Her step at a narrow point: measured, else as she set it."""
        return self.stretch if self.measures is None or self.measures.step is None else self.measures.step.length

    @property
    def own_bite(self) -> Length:
        """The width of her plain bite: measured, else as she set it."""
        return self.bite if self.measures is None or self.measures.bite is None else self.measures.bite.length

    @property
    def own_dip(self) -> Length:
        """How deep her needle goes: measured, else as she set it."""
        return self.dip if self.measures is None or self.measures.dip is None else self.measures.dip.length


class Thread(Record):
    """One thread. Its pitch comes from rows_per_cm if given, else from tex, else from the size."""

    name: Annotated[Name, Field(description="How rows call it, such as 'navy'")]
    colour: Annotated[Colour, Field(description="Its colour, such as #1d2b45")]
    fibre: Annotated[Name, Field(description="What it is spun from")] = "cotton"
    size: Annotated[
        str, Field(max_length=60, description="Such as 'pearl 5', 'fine metallic', 'tex 27', 'Nm 30/2' or 'Ne 5/2'")
    ] = "pearl 5"
    rows_per_cm: Annotated[
        float | None, Field(gt=0, le=100, description="Measured: threads side by side in one centimetre")
    ] = None
    tex: Annotated[float | None, Field(gt=0, le=5000, description="Grams per kilometre")] = None
    metallic: Annotated[bool, Field(description="Whether it glints")] = False
    skein: Annotated[Length | None, Field(description="Length of one skein, card or ball as bought")] = None
    have: Annotated[Length | None, Field(description="How much of it she has")] = None
    meant: MeantOfThread = {}


class Support(Record):
    """A line that only helps to place stitches.

    Either an arc between two addresses, or a ring: a circle at ``at`` round an address, or a
    polygon with ``corners`` corners on its guidelines.  With ``step``, ``between`` names two rings
    with equally many corners, and oblique lines run from each corner of one to the other.
    """

    name: Annotated[Name, Field(description="How addresses call it")]
    between: Annotated[tuple[str, str] | None, Field(description="The two addresses an arc runs between")] = None
    around: Annotated[str | None, Field(max_length=200, description="The address a ring lies round")] = None
    at: Annotated[Length | None, Field(description="How far from that address the ring lies")] = None
    corners: Annotated[int | None, Field(ge=3, le=64, description="Corners of the ring; none: a circle")] = None
    step: Annotated[
        int | None,
        Field(
            ge=0, le=64, description="Oblique lines: from corner k of the first ring to corner k + step of the second"
        ),
    ] = None
    removed: Annotated[bool, Field(description="Taken out again when the stitching is done")] = False


class MarkingSpec(Record):
    """How the ball is divided."""

    division: Annotated[str, Field(max_length=40, description="S8, S12+obi, S8/S16, C6, C8, C10, C10/42 …")]
    thread: Annotated[str | None, Field(description="Name of the marking thread; none: a thin one of the ground")] = (
        None
    )
    support: Annotated[
        tuple[Support, ...], Field(max_length=200, description="Lines that only help to place stitches")
    ] = ()
    removed: Annotated[bool, Field(description="All lines are taken out again when the stitching is done")] = False
    laid: Annotated[bool, Field(description="No: pins only, without a marking thread")] = True


UNDER_RULES = (
    "all",
    "under first",
    "over first",
    "every second",
    "interlocked",
    "woven",
    "woven bands",
)
_PATTERN = r"pattern [OU]{2,60}"


def _rule(text: str) -> str:
    if text in UNDER_RULES or re.fullmatch(_PATTERN, text):
        return text
    known = ", ".join(f"'{rule}'" for rule in UNDER_RULES)
    raise ValueError(f"must be one of {known}, or 'pattern' with O for over and U for under, such as 'pattern OUUO'")


UnderRule = Annotated[
    str,
    AfterValidator(_rule),
    WithJsonSchema({"type": "string", "pattern": f"^({'|'.join(UNDER_RULES)}|{_PATTERN})$"}),
]


class Under(Record):
    """How the layer's thread takes an earlier layer, or its own other motifs.

    all: under everywhere.  under first, over first: by turns, group by group.  every second: over one thread,
    under the next.  pattern OUUO: those letters over and over, group by group.  interlocked: under where it enters
    a motif, over where it leaves it, so that they hold like rings.  woven: every thread of both over and under by
    turns; woven bands: the same, rows beside each other taken together.
    """

    layer: Annotated[Name, Field(description="Name of the earlier layer, or of this layer itself")]
    rule: Annotated[
        UnderRule,
        Field(
            description="all, under first, over first, every second, interlocked, woven, woven bands, or a pattern "
            "such as 'pattern OUUO'"
        ),
    ] = "all"


class Chosen(Record):
    """A crossing whose over and under you settle yourself; it holds against every rule.

    It is told by the two threads that meet: row ``row`` of this layer at ``place``, on its leg ``leg`` from one
    bite to the next, and the other row on its leg.  So it stays where it is when the ball, a colour or a width
    changes, or rows are added.  In one layer the thread laid later is this one.
    """

    place: Annotated[str, Field(max_length=200, description="The place of this layer's motif")]
    row: Annotated[int, Field(ge=1, le=100_000, description="Its row there")]
    leg: Annotated[int, Field(ge=1, le=100_000, description="Its leg, counted from the row's first bite")]
    other: Annotated[Name, Field(description="Name of the earlier layer it meets, or of this layer itself")]
    other_place: Annotated[str, Field(max_length=200, description="The place of that layer's motif")]
    other_row: Annotated[int, Field(ge=1, le=100_000, description="That layer's row")]
    other_leg: Annotated[int, Field(ge=1, le=100_000, description="That row's leg")]
    lies: Annotated[Literal["over", "under"], Field(description="How this layer's thread takes the other")]
    at: Annotated[
        Literal["this crossing", "every like place", "whole group"],
        Field(
            description="every like place: wherever a turn of the marking takes this crossing to one of the same rows; "
            "whole group: all rows of both motifs on these two legs"
        ),
    ] = "this crossing"


class Layer(Record):
    """One entry of the stitching list."""

    name: Annotated[Name, Field(description="What the steps call this layer")]
    technique: Annotated[Name, Field(description="Which stitch, such as 'uwagake'")]
    where: Annotated[
        str | Annotated[tuple[str, ...], Field(max_length=1000)],
        Field(description="One address or a list of them, or 'all centres', 'all lines' …"),
    ]
    rows: Annotated[
        str, Field(max_length=2000, description="Such as '2 navy, 1 white' or 'until 5 mm from obi: 1 navy'")
    ]
    start: Annotated[str, Field(max_length=60, description="The guideline each row starts on")] = "line 1"
    direction: Annotated[Literal["right", "left"], Field(description="The way each row runs round its motif")] = "right"
    combine: Annotated[
        Literal["overlapped", "layered"],
        Field(description="overlapped: motif after motif; layered: row 1 on every motif, then row 2 …"),
    ] = "overlapped"
    together: Annotated[
        str | None, Field(max_length=60, description="Layers that share this word take their rows in turn")
    ] = None
    under: Annotated[
        tuple[Under, ...], Field(max_length=200, description="How this thread takes earlier layers, or its own motifs")
    ] = ()
    crossings: Annotated[
        tuple[Chosen, ...], Field(max_length=2000, description="Single crossings settled by hand, against every rule")
    ] = ()
    params: Annotated[
        dict[str, Any], Field(description="What the technique asks for; each technique tells its own")
    ] = {}
    meant: MeantOfLayer = {}
    notes: Annotated[str, Field(max_length=4000, description="Anything the maker wants to remember")] = ""


class Design(Record):
    """A ball from base to finished, as its maker wrote it."""

    format: Annotated[Literal[1], Field(description="Version of this format")] = FORMAT
    name: Annotated[Name, Field(description="What the ball is called")]
    level: Annotated[
        Literal["beginner", "accomplished beginner", "intermediate", "advanced"],
        Field(description="Who can stitch it"),
    ] = "beginner"
    ball: Annotated[BallSpec, Field(description="The wound ball")]
    maker: Annotated[Maker, Field(description="How this maker works")] = Maker()
    threads: Annotated[tuple[Thread, ...], Field(min_length=1, max_length=200, description="Every thread used")]
    marking: Annotated[MarkingSpec, Field(description="How the ball is divided")]
    layers: Annotated[tuple[Layer, ...], Field(max_length=200, description="What is stitched, in this order")] = ()
    notes: Annotated[str, Field(max_length=20000, description="Anything the maker wants to remember")] = ""
