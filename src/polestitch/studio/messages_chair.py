"""What drawer and chair say over the wire."""

from typing import Annotated, Any, Literal

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field

from polestitch.document.colours import Colour
from polestitch.studio.messages import DesignId, Message

Length = Annotated[float, Field(ge=0, le=1e9)]
Word = Annotated[str, Field(max_length=200)]
Step = Annotated[int, Field(ge=0, le=10**7)]
EventId = Annotated[str, Field(pattern=r"^[0-9a-f]{32}$")]


class Thread(Message):
    """A thread of the drawer; lengths in mm."""

    id: str
    name: str
    fibre: str
    size: str
    colour: str
    rows_per_cm: float | None
    skein_mm: float | None
    left_mm: float
    price: float | None
    currency: str | None
    shelf: str | None
    lot: str | None
    note: str | None
    away: bool
    changed: str


class ThreadWords(Message):
    """What she writes of a thread; what is left out stays as it is."""

    name: Annotated[str, Field(min_length=1, max_length=60)] | None = None
    fibre: Annotated[str, Field(max_length=60)] | None = None
    size: Annotated[str, Field(max_length=60)] | None = None
    colour: Colour | None = None
    rows_per_cm: Annotated[float, Field(gt=0, le=100)] | None = None
    skein_mm: Annotated[float, Field(gt=0, le=1e9)] | None = None
    left_mm: Length | None = None
    price: Annotated[float, Field(ge=0, le=1e9)] | None = None
    currency: Word | None = None
    shelf: Word | None = None
    lot: Word | None = None
    note: Annotated[str, Field(max_length=4000)] | None = None


class NewThread(ThreadWords):
    """A thread needs a name."""

    name: Annotated[str, Field(min_length=1, max_length=60)]


class Threads(Message):
    """The drawer."""

    threads: tuple[Thread, ...]


class Move(Message):
    """Thread that came, or went."""

    mm: Annotated[float, Field(ge=-1e9, le=1e9)]
    why: Word = ""
    piece: DesignId | None = None


class Away(Message):
    """Put away, or brought back."""

    away: bool


class CsvRow(ThreadWords):
    """One line of a list, and what taking it does."""

    action: Literal["add", "change", "same"]


class CsvWrong(Message):
    """A line, or a cell of it, that cannot be read."""

    line: int
    column: str | None
    what: str


class CsvLook(Message):
    """What a list holds."""

    read: tuple[CsvRow, ...]
    wrong: tuple[CsvWrong, ...]


class Near(Message):
    """A thread and how far its colour is off (CIEDE2000)."""

    id: str
    difference: float


class NearThreads(Message):
    """Nearest first."""

    threads: tuple[Near, ...]


class Span(Message):
    """From low to high."""

    low: float
    likely: float
    high: float


class NearThread(Message):
    """The nearest thread she owns."""

    id: str
    name: str
    colour: str
    difference: float


class Need(Message):
    """A thread that designs take, and whether the drawer has enough."""

    name: str
    colour: str
    thread: str | None
    needed_mm: Span
    left_mm: float
    short_mm: float
    skeins: int | None
    skein_mm: float | None
    spare_mm: float | None
    price: float | None
    currency: str | None
    nearest: NearThread | None
    designs: tuple[str, ...]


class Needs(Message):
    """All of them; ``left_out`` are designs that cannot be made yet."""

    threads: tuple[Need, ...]
    left_out: tuple[str, ...]


class PieceCard(Message):
    """One piece beside the chair."""

    id: str
    name: str
    design: str
    revision: int
    around_mm: float
    picture: str
    steps: int
    done: int
    hours: float
    last: str
    away: bool


class Pieces(Message):
    """The one worked on last first."""

    pieces: tuple[PieceCard, ...]


class MeasuredBall(Message):
    """What she measured on her own wound ball."""

    pole_to_pole: Annotated[tuple[Annotated[str, Field(max_length=40)], ...], Field(max_length=32)] = ()
    obi: Annotated[tuple[Annotated[str, Field(max_length=40)], ...], Field(max_length=32)] = ()


class NewPiece(Message):
    """A ball to begin, from a version of a design, on her own base."""

    design: DesignId
    revision: Annotated[int, Field(ge=1, le=2**31)] | None = None
    around: Annotated[str, Field(max_length=40)] | None = None
    measured: MeasuredBall | None = None
    name: Annotated[str, Field(min_length=1, max_length=60)]


class LayerCount(Message):
    """A layer's first step, and how many it has."""

    name: str
    first: int
    steps: int


class Counts(Message):
    """How many steps there are."""

    steps: int
    layers: tuple[LayerCount, ...]


class PieceThread(Message):
    """A thread of the piece: what it takes in all, and took so far."""

    name: str
    colour: str
    metallic: bool
    total_mm: float
    used_mm: float


class PieceState(BaseModel):
    """What all events come to."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    clock: int
    place: int
    done: tuple[tuple[int, int], ...]
    notes: tuple[dict[str, Any], ...]
    pins: dict[str, Any]
    sittings: tuple[dict[str, Any], ...]
    settings: dict[str, Any]
    revision: int | None


class OpenedPiece(Message):
    """A piece in hand; ``events_after`` is the number of the last event this studio has seen."""

    piece: PieceCard
    revision: int
    counts: Counts
    threads: tuple[PieceThread, ...]
    state: PieceState
    events_after: int


class HandStep(Message):
    """One movement of the hand."""

    n: int
    part: Literal["base", "marking", "layer", "finish"]
    say: str
    more: str
    layer: int | None
    motif: int | None
    of_motifs: int | None
    row: int | None
    of_rows: int | None
    lap: int | None
    of_laps: int | None
    bite: int | None
    of_bites: int | None
    thread: str | None
    at: str
    origin: Annotated[str | None, Field(alias="from")]
    mm: float | None
    strip: str | None
    under: tuple[str, ...]
    over: tuple[str, ...]
    eye_first: bool
    xyz: tuple[float, float, float] | None
    row_index: int | None
    arcs: tuple[int, int] | None
    join: Literal["begin", "end"] | None
    uses_mm: float
    work: Annotated[dict[str, float], Field(default_factory=dict)]  # by kind; empty in plans of before it was counted


class HandSteps(Message):
    """A stretch of them."""

    steps: tuple[HandStep, ...]


class Event(Message):
    """Something she did; which words belong to which ``kind`` is told in docs/json.md."""

    id: EventId
    device: Annotated[str, Field(min_length=1, max_length=64)]
    seq: Annotated[int, Field(ge=0, le=2**53)]
    clock: Annotated[int, Field(ge=0, le=2**52)]
    at: AwareDatetime
    kind: Literal[
        "next", "back", "jump", "unpick", "note", "differently", "ran_out", "pins", "sit", "hours", "replan", "setting"
    ]
    step: Step | None = None
    to: Step | None = None
    between: Literal["done", "as is"] | None = None
    text: Annotated[str, Field(max_length=4000)] | None = None
    photo: EventId | None = None
    thread: Annotated[str, Field(max_length=60)] | None = None
    what: Literal["in", "out", "count", "start", "stop", "beat"] | None = None
    n: Annotated[int, Field(ge=0, le=10**6)] | None = None
    when: Annotated[str, Field(max_length=40)] | None = None
    sitting: EventId | None = None
    minutes: Annotated[float, Field(ge=0, le=10**5)] | None = None
    revision: Annotated[int, Field(ge=0, le=2**31)] | None = None
    kept: Step | None = None
    name: Annotated[str, Field(max_length=40)] | None = None
    value: bool | int | float | Annotated[str, Field(max_length=200)] | None = None


class Events(Message):
    """What a device tells."""

    events: Annotated[tuple[Event, ...], Field(max_length=2000)]


class Accepted(Message):
    """All of them are kept now; ``state`` is what everything comes to."""

    accepted: tuple[str, ...]
    clock: int
    state: PieceState


class ToldEvents(Message):
    """Events this studio has seen since, and the number of the last."""

    events: tuple[dict[str, Any], ...]
    last: int


class PieceTime(Message):
    """Sittings, hours so far, and hours left."""

    sittings: tuple[dict[str, Any], ...]
    hours: float
    left: Span


class PhotoName(Message):
    """What a photo is asked for by."""

    photo: str


class Replan(Message):
    """Which version to go on by; only a look unless ``apply``."""

    revision: Annotated[int, Field(ge=1, le=2**31)]
    apply: bool = False


class Replanned(Message):
    """What that changes, in words; steps that stay done, and steps that are new."""

    words: tuple[str, ...]
    kept: int
    new: int


class Device(Message):
    """A paired device."""

    id: str
    name: str
    paired: str
    seen: str | None
    until: str


class Lan(Message):
    """The way in for a tablet."""

    on: bool
    addresses: tuple[str, ...]
    code: str | None
    code_until: str | None
    qr: str | None
    authority: str | None
    devices: tuple[Device, ...]


class Pairing(Message):
    """The code from the studio's own screen, and what to call the device."""

    code: Annotated[str, Field(max_length=40)]
    name: Annotated[str, Field(max_length=60)] = ""


class Paired(Message):
    """The device may come in now."""

    device: str
