"""What classes say over the wire."""

from typing import Annotated, Any, Literal

from pydantic import Field

from polestitch.studio.messages import DesignId, Message, Wrong

PaperKind = Literal["handout", "kit-list", "cut-list", "strips", "lesson-plan"]


class ClassCard(Message):
    """A class in the list; ``students`` and ``when`` as far as they can be read."""

    id: str
    title: str
    design: str | None
    design_name: str | None
    picture: str | None
    students: int | None
    when: str
    number: int
    changed: str
    away: bool


class Classes(Message):
    """All of them."""

    classes: tuple[ClassCard, ...]


class NewClass(Message):
    """A class about a design of the shelf."""

    design: DesignId
    title: Annotated[str, Field(max_length=80)] = ""


class ClassDocument(Message):
    """A class as she wrote it, and what is wrong in it, if anything is."""

    card: ClassCard
    document: dict[str, Any]
    wrong: Wrong | None = None


class ClassSave(Message):
    """Other words for a class; ``number`` is that of the words they build on."""

    document: dict[str, Any]
    number: Annotated[int, Field(ge=0, le=2**31)]


class ClassWorked(Message):
    """Every figure of a class as ``class --json`` prints them, and the steps to show by hand."""

    told: dict[str, Any]
    steps: dict[str, tuple[dict[str, Any], ...]]


class NewClassPaper(Message):
    """A paper to make."""

    kind: PaperKind
    paper: Literal["a4", "letter"] = "a4"
