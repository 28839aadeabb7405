"""What goes over the wire as JSON: the OpenAPI description, and with it the front end's types, come from here."""

from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from polestitch.store.shelf import Card as KeptCard
from polestitch.studio.takeaway import Kind

Document = Annotated[
    dict[str, Any], Field(description="A design document, as its maker wrote it; it may be unfinished")
]
Tab = Annotated[str, Field(max_length=64, description="The window that asks; any word it keeps for itself")]
DesignId = Annotated[str, Field(pattern=r"^[0-9a-f]{32}$")]
SHORT = 12  # letters of a checksum that tell pictures apart
Number = Annotated[int, Field(ge=0, le=2**53)]


class Message(BaseModel):
    """A frozen message that refuses words it does not know."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)


class Wrong(Message):
    """What is wrong, and where."""

    where: str
    what: str


class Card(Message):
    """One design on the shelf."""

    id: str
    name: str
    tags: tuple[str, ...]
    division: str
    around_mm: float | None
    changed: str
    revision: int
    away: bool
    away_until: str | None
    wrong: Wrong | None
    picture: str


def picture_address(design: str, revision: int, document: str) -> str:
    """Where a picture lies; with a piece of the document's checksum it may be kept for ever."""
    return f"/api/designs/{design}/picture.png?r={revision}&v={document[:SHORT]}"


def card_of(kept: KeptCard) -> Card:
    """The card as the front end wants it."""
    wrong = None if kept.wrong is None else Wrong(where=kept.wrong[0], what=kept.wrong[1])
    return Card.model_construct(  # checked when it was kept; a shelf has hundreds
        id=kept.id,
        name=kept.name,
        tags=kept.tags,
        division=kept.division,
        around_mm=kept.around_mm,
        changed=kept.changed,
        revision=kept.revision,
        away=kept.away_at is not None,
        away_until=kept.away_until,
        wrong=wrong,
        picture=picture_address(kept.id, kept.revision, kept.document),
    )


class Shelf(Message):
    """Cards in order, how many there are in all, and every tag in use."""

    cards: tuple[Card, ...]
    total: int
    tags: tuple[str, ...]


class WantedCards(Message):
    """Which cards: words of the name, the division or a tag; one tag; put away or not; in which order."""

    search: Annotated[str, Field(max_length=200)] = ""
    tag: Annotated[str, Field(max_length=40)] = ""
    sort: Literal["changed", "name", "around"] = "changed"
    away: bool = False
    start: Annotated[int, Field(ge=0, le=10**6)] = 0
    count: Annotated[int, Field(ge=1, le=1000)] = 1000


class WantedPicture(Message):
    """Which picture: of revision ``r`` (0: the newest), how large, and what looks at you."""

    r: Annotated[int, Field(ge=0, le=2**31)] = 0
    v: Annotated[str, Field(max_length=64, description="Beginning of the document's checksum, as cards give it")] = ""
    size: Annotated[int, Field(ge=32, le=1600)] = 480
    facing: Annotated[str, Field(max_length=200)] = "N"


class WantedLook(Message):
    """Which look at a document."""

    size: Annotated[int, Field(ge=32, le=1000)] = 240
    facing: Annotated[str, Field(max_length=200)] = "N"
    transparent: bool = True


class NewDesign(Message):
    """A design to begin with: an example, a family of traditional patterns, an empty ball, or a copy."""

    origin: Annotated[Literal["example", "family", "empty", "copy"], Field(alias="from")]
    family: Annotated[str | None, Field(max_length=60)] = None
    division: Annotated[str | None, Field(max_length=40)] = None
    example: Annotated[str | None, Field(max_length=60)] = None
    around: Annotated[str | None, Field(max_length=40)] = None
    copy_of: DesignId | None = None
    revision: Annotated[int | None, Field(ge=1, le=2**31)] = None


class OpenedDesign(Message):
    """A design on the bench; ``base`` is the revision that the next save builds on."""

    card: Card
    document: Document
    base: int


class Save(Message):
    """A document as it now is in this window."""

    base: Annotated[int, Field(ge=0, le=2**31)]
    document: Document
    tab: Tab = ""
    label: Annotated[str | None, Field(max_length=80)] = None


class SavedRevision(Message):
    """The newest revision."""

    revision: int


class Parted(Message):
    """Another window has changed the design: this change is kept as a design of its own."""

    where: str
    what: str
    current: int
    kept_as: Card


class CardChange(Message):
    """Other tags, put away, brought back."""

    tags: Annotated[tuple[Annotated[str, Field(max_length=200)], ...] | None, Field(max_length=50)] = None
    away: bool | None = None


class RevisionEntry(Message):
    """One entry of the timeline."""

    revision: int
    at: str
    label: str | None
    picture: str


class Timeline(Message):
    """All revisions, the newest first."""

    revisions: tuple[RevisionEntry, ...]


class OldDocument(Message):
    """The document of one revision."""

    document: Document


class Label(Message):
    """A name for a revision; none takes it away."""

    label: Annotated[str | None, Field(max_length=80)] = None


class TakenArchive(Message):
    """How many designs an archive added, and how many were there already."""

    added: int
    already: int


class Backup(Message):
    """One backup."""

    name: str
    at: str
    bytes: int


class Backups(Message):
    """All backups, the newest first."""

    backups: tuple[Backup, ...]


class Restored(Message):
    """The backup made of the state before."""

    before: str


class Question(Message):
    """What does this document look like?  A newer question of the same tab replaces it."""

    document: Document
    question: Number
    tab: Tab = ""


class Finding(Message):
    """One thing to know, to decide or to change; ``xyz`` is where on the ball."""

    kind: str
    severity: Literal["note", "care", "stop"]
    layer: int | None
    row: int | None
    address: str | None
    sentence: str
    remedy: dict[str, Any] | None
    xyz: tuple[float, float, float] | None


class Amount(Message):
    """Thread of one kind."""

    name: str
    laid_mm: float
    total_mm: float
    lengths: int
    skeins: int | None


class Amounts(Message):
    """All threads."""

    threads: tuple[Amount, ...]


class Hours(Message):
    """Hours of work."""

    low: float
    likely: float
    high: float


class Distance(Message):
    """How far a pin stands from one that is in."""

    point: str
    mm: float


class Pin(Message):
    """One pin of the plan, in order."""

    point: str
    on: str
    measured: tuple[Distance, ...]
    words: str


class Figures(Message):
    """What is known of a document beside its look."""

    question: int
    findings: tuple[Finding, ...]
    estimate: Amounts
    hours: Hours | None
    cover: float | None = None
    buildup: int | None = None
    pins: tuple[Pin, ...] = ()
    wrong: Wrong | None


class Look(Message):
    """A document to be pictured."""

    document: Document


class TechniqueEntry(Message):
    """One technique, with the JSON Schema its form is drawn from, and places to offer for it."""

    name: str
    title: str
    sentence: str
    place: Literal["centre", "arc", "circle", "poles", "ball"]
    form: Annotated[dict[str, Any], Field(alias="schema")]
    example: dict[str, Any]
    where: tuple[str, ...]


class DivisionEntry(Message):
    """One division in plain words; ``counts`` are points by kind."""

    name: str
    plain: str
    counts: dict[str, int]


JobState = Literal["waiting", "running", "done", "failed", "stopped"]


class JobOptions(Message):
    """How she wants it."""

    paper: Literal["a4", "letter"] = "a4"
    size: Annotated[int, Field(ge=64, le=4000)] = 1000
    facing: Annotated[str, Field(max_length=200)] = "N"
    transparent: bool = False
    format: Literal["", "pdf", "svg", "png", "gif", "glb", "json"] = ""


class NewJob(Message):
    """Something to take away."""

    kind: Kind
    document: Document
    options: JobOptions = JobOptions()


class JobName(Message):
    """What the job is asked for by."""

    job: str


class JobReport(Message):
    """How far a job is."""

    state: JobState
    share: float
    saying: str
    file: str | None = None
    name: str | None = None
    wrong: Wrong | None = None


class Palette(Message):
    """Colours of a photo, the commonest first."""

    colours: tuple[str, ...]


class Health(Message):
    """Version, and the name of the data folder."""

    version: str
    data: str
