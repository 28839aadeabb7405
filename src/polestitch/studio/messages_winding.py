"""What goes over the wire about the base: what it is made of, the plan, how round it came out, and what she wound."""

from typing import Annotated, Literal

from pydantic import Field

from polestitch.studio.messages import Document, Message

Name = Annotated[str, Field(min_length=1, max_length=60)]
Amount = Annotated[str, Field(max_length=40)]


class Stuff(Message):
    """A core, a wrap or something that sounds."""

    name: str
    title: str
    hint: str
    length: Annotated[bool, Field(description="Whether it is measured in metres too")] = False


class Materials(Message):
    """Everything a ball can be made of."""

    cores: tuple[Stuff, ...]
    wraps: tuple[Stuff, ...]
    noises: tuple[Stuff, ...]


class WrapSaid(Message):
    """A wrap, and how much there is of it, such as "40 g" or "120 m"; empty: as much as it takes."""

    name: Name
    amount: Amount = ""


class WantedWinding(Message):
    """A base for a document's ball; without ``to_size``: what comes of what she has."""

    document: Document
    core: Name = "hulls"
    core_around: Amount = ""
    noise: Annotated[str, Field(max_length=60)] = ""
    wraps: Annotated[tuple[WrapSaid, ...], Field(min_length=1, max_length=8)]
    to_size: bool = True


class SpanTold(Message):
    """A figure that is not known exactly."""

    low: float
    likely: float
    high: float


class CoreTold(Message):
    """What stands in the middle."""

    name: str
    title: str
    around_mm: float
    grams: SpanTold
    loose_ml: float | None
    said: str


class NoiseTold(Message):
    """What sounds inside."""

    name: str
    title: str
    capsule_mm: float
    grams: SpanTold
    buried_mm: float
    said: str


class StopTold(Message):
    """One wrap, and where to stop."""

    name: str
    title: str
    around_mm: float
    between_mm: SpanTold
    thickness_mm: float
    hint: str
    own: bool
    grams: SpanTold
    metres: SpanTold | None
    have_grams: float | None
    enough: Literal["yes", "perhaps", "no"] | None


class BiteTold(Message):
    """Whether the stitches find hold."""

    dip_mm: float
    thread_mm: float
    holds: bool
    said: str


class LearnedTold(Message):
    """What her own balls say of a material."""

    name: str
    balls: int
    density: SpanTold
    unsure_percent: float
    guess_percent: float
    said: str


class WindingTold(Message):
    """The whole plan, or what comes of what she has."""

    wanted_mm: float | None
    around_mm: SpanTold
    core: CoreTold
    noise: NoiseTold | None
    stops: tuple[StopTold, ...]
    bite: BiteTold
    grams: SpanTold
    learned: tuple[LearnedTold, ...]
    said: tuple[str, ...]
    cautions: tuple[str, ...]


class WantedSheet(WantedWinding):
    """The same on paper."""

    paper: Literal["a4", "letter"] = "a4"


class WantedRoundness(Message):
    """What she measured, lengths as she writes them; ``off_by`` is how far off one reading usually is."""

    document: Document
    pole_to_pole: Annotated[tuple[Amount, ...], Field(max_length=32)] = ()
    obi: Annotated[tuple[Amount, ...], Field(max_length=32)] = ()
    off_by: Amount = "1 mm"


class ReadingsTold(Message):
    """What was measured, in mm."""

    pole_to_pole_mm: tuple[float, ...]
    obi_mm: tuple[float, ...]


class SpotTold(Message):
    """A place on the ball, and how its radius differs."""

    name: str
    off_mm: float
    doubt_mm: float
    add_mm: float


class AddTold(Message):
    """What it takes to make it round."""

    material: str
    cm3: float
    grams: SpanTold
    metres: SpanTold | None
    around_mm: float


class FreeTold(Message):
    """What a layer leaves free somewhere."""

    layer: str
    place: str
    free_mm: float
    holds: bool


class BearsTold(Message):
    """Whether this design bears the ball as it is."""

    doubt_mm: float
    layers: tuple[FreeTold, ...]
    holds: bool
    said: str


class RoundnessTold(Message):
    """How round the ball is, how sure that is, where to add, and whether the design bears it."""

    around_mm: float
    readings: ReadingsTold
    off_by_mm: float
    spread_mm: float
    spread_percent: float
    out_mm: SpanTold
    out_percent: float
    certain: bool
    left_mm: float | None
    radius_mm: float
    turn: float | None
    spots: tuple[SpotTold, ...]
    add: AddTold | None
    bears: BearsTold
    verdict: Literal["round", "unsure", "roll", "pad", "too few"]
    said: tuple[str, ...]


class NewWound(Message):
    """One wrap or core as she writes it down; grams or metres."""

    material: Name
    before: Amount = ""
    after: Amount
    grams: Amount = ""
    metres: Amount = ""
    note: Annotated[str, Field(max_length=200)] = ""


class WoundEntry(Message):
    """One entry of the winding log."""

    id: str
    material: str
    before_mm: float
    after_mm: float
    grams: float
    note: str | None
    away: bool
    changed: str


class WoundLog(Message):
    """What she wound, and what it teaches."""

    entries: tuple[WoundEntry, ...]
    learned: tuple[LearnedTold, ...]


class PutWoundAway(Message):
    """Away, or back."""

    away: bool


class TakenWound(Message):
    """How many entries a table brought."""

    added: int
