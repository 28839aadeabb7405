"""The design document as frozen records, in the order a maker works: ball, threads, marking, layers.

In: nothing.  Out: pydantic models (``extra="forbid"``) that validate, and give the JSON Schema.
A layer's ``params`` stay raw JSON here: the technique reads them when the ball is built, so this
room never changes for a new technique.
"""

from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from polestitch.document.colours import Colour
from polestitch.document.lengths import Length

FORMAT: Literal[1] = 1
Name = Annotated[str, Field(min_length=1, max_length=60)]


class Record(BaseModel):
    """A frozen record that refuses words it does not know."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)


class Measured(Record):
    """What she measured on the wound ball; more than one pole-to-pole reading shows the roundness."""

    pole_to_pole: tuple[Length, ...] = ()
    obi: tuple[Length, ...] = ()


class BallSpec(Record):
    """The wound ball."""

    around: Annotated[Length, Field(description="Planned circumference")]
    measured: Measured = Measured()
    colour: Annotated[Colour, Field(description="Colour of the thread wrap, the ground")] = Colour("#2b2f3a")


class Maker(Record):
    """How this maker works; every default is a starting point to be corrected by her own hands."""

    hand: Literal["right", "left"] = "right"
    units: Literal["mm", "in"] = "mm"
    friction: Annotated[
        float, Field(gt=0, le=2, description="Thread on wrap; no unit. 0.15 to 0.5 is the published band")
    ] = 0.3
    working_length: Annotated[Length, Field(description="Thread cut at a time")] = Length("1 m")
    stretch: Annotated[Length, Field(description="Step at a narrow tip, about 2 mm in size 5")] = Length("2 mm")
    bite: Annotated[Length, Field(description="Whole width of a plain bite, 2 mm or less")] = Length("1.5 mm")


class Thread(Record):
    """One thread. Its pitch comes from rows_per_cm if given, else from tex, else from the size."""

    name: Name
    colour: Colour
    fibre: Name = "cotton"
    size: Annotated[str, Field(max_length=60, description="For example 'pearl 5' or 'fine metallic'")] = "pearl 5"
    rows_per_cm: Annotated[
        float | None, Field(gt=0, le=100, description="Measured: threads side by side in one centimetre")
    ] = None
    tex: Annotated[float | None, Field(gt=0, le=5000, description="Grams per kilometre")] = None
    metallic: bool = False
    skein: Annotated[Length | None, Field(description="Length of one skein, card or ball as bought")] = None
    have: Annotated[Length | None, Field(description="How much of it she has")] = None


class Support(Record):
    """A line that only helps to place stitches.

    Either an arc between two addresses, or a ring: a circle at ``at`` round an address, or a
    polygon with ``corners`` corners on its guidelines.
    """

    name: Name
    between: tuple[str, str] | None = None
    around: str | None = None
    at: Length | None = None
    corners: Annotated[int | None, Field(ge=3, le=64)] = None
    removed: Annotated[bool, Field(description="Taken out again when the stitching is done")] = False


class MarkingSpec(Record):
    """How the ball is divided."""

    division: Annotated[str, Field(max_length=20, description="S8, S12+obi, C6, C8, C10 …")]
    thread: Annotated[str | None, Field(description="Name of the marking thread; none: a thin one of the ground")] = (
        None
    )
    support: tuple[Support, ...] = ()


class Under(Record):
    """The layer's thread goes under an earlier layer: at every crossing, or alternately."""

    layer: Name
    rule: Literal["all", "under first", "over first"] = "all"


class Layer(Record):
    """One entry of the stitching list."""

    name: Name
    technique: Name
    where: Annotated[str | tuple[str, ...], Field(description="Addresses, or 'all centres', 'all lines' …")]
    rows: Annotated[str, Field(max_length=2000, description="'2 navy, 1 white' or 'until 5 mm from obi: 1 navy'")]
    start: Annotated[str, Field(max_length=60, description="The guideline each row starts on")] = "line 1"
    direction: Literal["right", "left"] = "right"
    combine: Annotated[
        Literal["overlapped", "layered"],
        Field(description="overlapped: motif after motif; layered: row 1 on every motif, then row 2 …"),
    ] = "overlapped"
    together: Annotated[
        str | None, Field(max_length=60, description="Layers that share this word take their rows in turn")
    ] = None
    under: tuple[Under, ...] = ()
    params: dict[str, Any] = {}
    notes: Annotated[str, Field(max_length=4000)] = ""


class Design(Record):
    """A ball from base to finished, as its maker wrote it."""

    format: Literal[1] = FORMAT
    name: Name
    level: Literal["beginner", "accomplished beginner", "intermediate", "advanced"] = "beginner"
    ball: BallSpec
    maker: Maker = Maker()
    threads: Annotated[tuple[Thread, ...], Field(min_length=1, max_length=200)]
    marking: MarkingSpec
    layers: Annotated[tuple[Layer, ...], Field(max_length=200)] = ()
    notes: Annotated[str, Field(max_length=20000)] = ""
