"""What records of finished pieces and shows say over the wire."""

from typing import Annotated, Any, Literal

from pydantic import Field

from polestitch.showing.exhibition import Exhibition
from polestitch.showing.record import PieceRecord, Where
from polestitch.studio.messages import DesignId, Message, Tab
from polestitch.studio.messages_chair import CsvWrong

Base = Annotated[int, Field(ge=1, le=2**31, description="The version that this change builds on")]
Written = Annotated[dict[str, Any], Field(description="As she wrote it; it is checked, and refused at its place")]
PaperKind = Literal[
    "catalogue",
    "labels",
    "large-print",
    "reading-text",
    "case-plan",
    "checklist",
    "loan-form",
    "price-list",
    "insurance-list",
    "care-notes",
]


class RecordCard(Message):
    """One finished piece among all."""

    id: str
    number: str
    title: str
    pattern: str
    maker: str
    where: Where
    with_whom: str
    around: str | None
    price: str | None
    finished: str | None
    changed: str
    away: bool
    picture: str | None


class Records(Message):
    """All pieces in use or all put away, the first recorded first; the number to give the next one."""

    records: tuple[RecordCard, ...]
    next_number: str


class NewRecord(Message):
    """A record to begin: from a design, from a piece of the Chair, or empty."""

    design: DesignId | None = None
    piece: DesignId | None = None


class OpenedRecord(Message):
    """A record to write in; ``kept_photos`` are all it ever had, ``chair_photos`` how many may be taken over."""

    id: str
    version: int
    record: PieceRecord
    kept_photos: tuple[str, ...]
    chair_photos: int
    design_name: str | None
    changed: str
    away: bool
    picture: str | None


class KeepRecord(Message):
    """A record as it now is in this window."""

    base: Base
    record: Written
    tab: Tab = ""


class RecordLine(Message):
    """One line of a list, and what taking it does."""

    number: str
    title: str
    action: Literal["add", "change", "same"]


class RecordLook(Message):
    """What a list of pieces holds."""

    read: tuple[RecordLine, ...]
    wrong: tuple[CsvWrong, ...]


class EarlierVersion(Message):
    """What a record or a show was, and when."""

    version: int
    at: str
    title: str
    body: dict[str, Any]


class EarlierVersions(Message):
    """The newest first; the first of them is what it is now."""

    versions: tuple[EarlierVersion, ...]


class ShowCard(Message):
    """One show among all."""

    id: str
    title: str
    line: str
    opens: str | None
    closes: str | None
    pieces: int
    changed: str
    away: bool
    pictures: tuple[str, ...]


class ShowCards(Message):
    """All shows in use or all put away, the newest first."""

    shows: tuple[ShowCard, ...]


class NewShow(Message):
    """A show to begin."""

    title: Annotated[str, Field(min_length=1, max_length=80)]


class OpenedShow(Message):
    """A show to work on; its pieces' records are kept apart, so ``records`` is empty."""

    id: str
    version: int
    show: Exhibition
    changed: str
    away: bool


class KeepShow(Message):
    """A show as it now is in this window, without records."""

    base: Base
    show: Written
    tab: Tab = ""


class PlacedBall(Message):
    """A ball on its shelf; mm from the case's left side, from its back, above the shelf, to the ball's middle."""

    number: str
    title: str
    x: float
    back: float
    up: float
    diameter: float
    stand: float
    facing: str
    turn: str


class FreeGap(Message):
    """Free mm between two neighbours, or between one and the case's ``side``."""

    left: str
    right: str
    mm: float


class PlacedShelf(Message):
    """One shelf, 1 being the top one."""

    shelf: int
    clear: float
    from_floor: float | None
    balls: tuple[PlacedBall, ...]
    gaps: tuple[FreeGap, ...]


class PlacedCase(Message):
    """One case drawn to scale; ``unsized`` are pieces without a circumference."""

    name: str
    width: float
    depth: float
    shelves: tuple[PlacedShelf, ...]
    unsized: tuple[str, ...]
    findings: tuple[str, ...]


class ShowCheck(Message):
    """What to know of a show, its cases in millimetres, and lux hours where they are known."""

    remarks: tuple[str, ...]
    cases: tuple[PlacedCase, ...]
    lux_hours: float | None


class WantedPapers(Message):
    """Which papers; several come as one ZIP file."""

    kinds: Annotated[tuple[PaperKind, ...], Field(min_length=1, max_length=20)]
    size: Literal["a4", "letter"] = "a4"
