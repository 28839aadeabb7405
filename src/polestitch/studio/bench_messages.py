"""What goes over the wire about touches, families, sizes and wishes: what the Bench alone speaks of."""

from typing import Annotated, Any, Literal

from pydantic import AfterValidator, Field

from polestitch.fitting.wishes import Change
from polestitch.studio.messages import Document, Message, Tab

Vector = tuple[float, float, float]


def _somewhere(at: Vector | None) -> Vector | None:
    if at is not None and not 0.1 < sum(value * value for value in at) < 10:
        raise ValueError("must lie on the ball: a vector of length 1")
    return at


Touch = Annotated[Vector | None, AfterValidator(_somewhere), Field(description="A touched place, as a unit vector")]


class WhichSpots(Message):
    """Asked for: what a touched place is called, and where these addresses lie."""

    document: Document
    tab: Tab = ""
    near: Touch = None
    named: Annotated[tuple[Annotated[str, Field(max_length=200)], ...], Field(max_length=1000)] = ()


class Spot(Message):
    """A spot a path can visit; ``words`` say it with its distance."""

    address: str
    xyz: Vector
    words: str


class Spots(Message):
    """The spot a touch means, and those asked for by address."""

    near: Spot | None
    named: tuple[Spot | None, ...]


class WhichWhere(Message):
    """Asked for: a layer's words for where it is worked, with one marked point more, or less where it is named."""

    document: Document
    tab: Tab = ""
    layer: Annotated[int, Field(ge=0, lt=200, description="Its index in the document")]
    point: Annotated[str, Field(max_length=200)]


class Where(Message):
    """The words anew; whatever else she wrote there stays as she wrote it."""

    where: str | tuple[str, ...]


class WhichCrossing(Message):
    """Asked for: the threads that cross at a touched place."""

    document: Document
    tab: Tab = ""
    near: Touch = None


class Strand(Message):
    """One thread of a crossing."""

    layer: str
    place: str
    row: int
    thread: str


class Crossing(Message):
    """Two threads; ``choice`` written into the layer ``layer`` turns them over, ``counts`` say how far it reaches."""

    xyz: Vector
    top: Strand
    below: Strand
    layer: int
    choice: dict[str, Any]
    counts: dict[str, int]
    state: Literal["as laid", "by rule", "by hand", "open", "contradicts"]


class Unsettled(Message):
    """A crossing that no rule decides, or two rules decide differently."""

    xyz: Vector
    why: Literal["open", "contradicts"]


class FoundCrossing(Message):
    """The crossing a touch means, and all that are unsettled."""

    crossing: Crossing | None
    unsettled: tuple[Unsettled, ...]


class FamilyEntry(Message):
    """One traditional family to begin from; ``divisions`` are those it works on, its own first."""

    name: str
    title: str
    term: str | None
    kind: str
    sentence: str
    difficulty: int
    difficulty_said: str
    divisions: tuple[str, ...]
    techniques: tuple[str, ...]
    sources: tuple[str, ...]


class AnotherSize(Message):
    """A document, and how the wound ball came out."""

    document: Document
    around: Annotated[str, Field(min_length=1, max_length=40)]


class OnAnotherSize(Message):
    """The document for that size, and what changes in one sentence each."""

    document: Document
    changes: tuple[str, ...]


class Wish(Message):
    """What a layer's motifs shall do, and what may change for it."""

    layer: Annotated[str, Field(max_length=60)]
    wish: Literal["meet", "gap", "reach", "fill"]
    change: Change
    other: Annotated[str | None, Field(alias="with", max_length=60)] = None
    gap: Annotated[str | None, Field(max_length=40)] = None
    at: Annotated[str | None, Field(max_length=200)] = None


class Wished(Message):
    """A document and wishes that are to come true together."""

    document: Document
    wishes: Annotated[tuple[Wish, ...], Field(min_length=1, max_length=6)]


class Fitted(Message):
    """The document with the wishes come true as near as can be, and what was found."""

    document: Document
    found: tuple[dict[str, Any], ...]
