"""What the pin survey says over the wire; lengths in mm."""

from typing import Annotated, Literal

from pydantic import Field

from polestitch.store.surveys import KeptReading, KeptSurvey
from polestitch.studio.messages import Document, Message, Number, Tab

__all__ = ["KeptReading", "KeptSurvey"]
Spot = tuple[float, float, float]


class SurveyKept(Message):
    """Her readings, and the number of their last change."""

    number: int
    survey: KeptSurvey


class KeepSurvey(Message):
    """Readings to keep on top of change ``base``."""

    base: Number
    survey: KeptSurvey


class SurveyQuestion(Message):
    """What do these readings say of this ball's pins?  A newer question of the same tab replaces it."""

    document: Document
    survey: KeptSurvey
    question: Number
    tab: Tab = ""


class WhichDistances(Message):
    """Asked for: which distances to measure on this ball."""

    document: Document


class AskedDistance(Message):
    """A distance to measure, and what it should be."""

    first: str
    second: str
    mm: float


class AskedDistances(Message):
    """In the order of the pin plan."""

    distances: tuple[AskedDistance, ...]


class SurveyedPin(Message):
    """A pin: where it is and where it ought to be, as unit vectors; how far off, and how sure that is."""

    point: str
    known: bool
    off_mm: float | None
    doubt_mm: float | None
    at: Spot
    target: Spot


class MovePart(Message):
    """So many mm toward a pin."""

    mm: float
    toward: str


class MoveCheck(Message):
    """What the strip must read then."""

    point: str
    mm: float


class PinMove(Message):
    """A pin that must move."""

    point: str
    mm: float
    parts: tuple[MovePart, ...]
    checks: tuple[MoveCheck, ...]
    sentence: str


class JudgedReading(Message):
    """A reading against the adjusted pins; ``line`` and ``twins`` count her readings from 1."""

    line: int
    first: str
    second: str
    mm: float
    off_mm: float
    test: float
    least_mm: float | None
    misread: bool
    twins: tuple[int, ...]


class PinGap(Message):
    """Two neighbouring pins: what lies between them now, and what should."""

    first: str
    second: str
    mm: float
    wanted_mm: float


class NextReading(Message):
    """A reading worth taking."""

    first: str
    second: str
    gain_mm: float


class RefusedReading(Message):
    """A reading that cannot be, and why; the others are adjusted without it."""

    line: int
    what: str


class MotifsNow(Message):
    """A layer's tightest pair of motifs on these pins, in one sentence."""

    layer: str
    first: str
    second: str
    mm: float
    wanted_mm: float
    sentence: str


class RoundBall(Message):
    """The ball as the readings have it."""

    around_mm: float


class SurveyCare(Message):
    """How sure a reading is taken to be, and how near is near enough."""

    off_by_mm: float
    near_mm: float


class MarkingNow(Message):
    """How good the marking is."""

    worst_mm: float
    mean_mm: float
    standing: int
    pins: int


class Surveyed(Message):
    """Everything the readings tell."""

    said: tuple[str, ...]
    ball: RoundBall
    care: SurveyCare
    now: MarkingNow
    pins: tuple[SurveyedPin, ...]
    moves: tuple[PinMove, ...]
    readings: tuple[JudgedReading, ...]
    unit: float
    gaps: tuple[PinGap, ...]
    unknown: tuple[str, ...]
    next: tuple[NextReading, ...]
    motifs: tuple[MotifsNow, ...]
    refused: tuple[RefusedReading, ...]


class ReadTable(Message):
    """Readings of a table, in the words of the wire."""

    readings: Annotated[tuple[KeptReading, ...], Field(max_length=5000)]


Paper = Literal["a4", "letter"]
