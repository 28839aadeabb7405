"""An exhibition: which pieces, in which order, in which case, and what is said about it.

In: nothing.  Out: frozen pydantic models.  In a file the records stand in the exhibition itself; the studio keeps
them apart and puts them in when a paper is made.
"""

from datetime import date
from typing import Annotated, Literal

from pydantic import Field

from polestitch.document.design import Record
from polestitch.document.lengths import Length
from polestitch.document.money import Money
from polestitch.showing.record import Line, Number, PieceRecord, Text

FORMAT: Literal[1] = 1


class Person(Record):
    """Somebody who takes part, as far as she wants it printed."""

    name: Line = ""
    contact: Annotated[str, Field(max_length=400, description="Address, telephone, mail: a line each")] = ""


class ShelfSpec(Record):
    """One shelf of a case."""

    clear: Annotated[Length, Field(description="Free height above it")]
    from_floor: Annotated[Length | None, Field(description="How high it stands above the floor")] = None


class Case(Record):
    """A showcase, a table or a wall shelf, measured inside."""

    name: Annotated[str, Field(min_length=1, max_length=60)]
    width: Length
    depth: Length
    shelves: Annotated[tuple[ShelfSpec, ...], Field(min_length=1, max_length=20, description="From the top down")]


class Shown(Record):
    """A piece in the show, in catalogue order."""

    number: Annotated[Number, Field(description="The piece's inventory number")]
    case: Annotated[Line, Field(description="The case it stands in; empty: not placed yet")] = ""
    shelf: Annotated[int, Field(ge=1, le=20, description="Which shelf, from the top")] = 1
    at: Annotated[
        Length | None, Field(description="From the case's left side to the ball's middle; none: spread evenly")
    ] = None
    back: Annotated[
        Length | None, Field(description="From the case's back to the ball's middle; none: half its depth")
    ] = None
    stand: Annotated[Length, Field(description="How high its stand or ring holds it above the shelf")] = Length("0 mm")
    facing: Annotated[str, Field(max_length=80, description="Which place of the ball looks at the visitor")] = ""
    turn: Annotated[Line, Field(description="How it is turned, in words, for who sets it up")] = ""


class Labels(Record):
    """How labels are set."""

    distance: Annotated[Length, Field(description="How far off visitors read them")] = Length("60 cm")
    words: Annotated[Literal["text", "plain"], Field(description="The text or its plain-language version")] = "text"
    prices: Annotated[bool, Field(description="Whether the price stands on the label")] = False


class Exhibition(Record):
    """One show."""

    format: Literal[1] = FORMAT
    title: Annotated[str, Field(min_length=1, max_length=80)]
    line: Annotated[Line, Field(description="A line under the title")] = ""
    venue: Annotated[str, Field(max_length=400, description="Where: a line each")] = ""
    opens: date | None = None
    closes: date | None = None
    delivery: date | None = None
    collection: date | None = None
    curator: Line = ""
    foreword: Annotated[
        str, Field(max_length=20_000, description="For the catalogue; an empty line parts paragraphs")
    ] = ""
    lender: Person = Person()
    borrower: Person = Person()
    currency: Annotated[str, Field(pattern="^[A-Z]{3}$", description="Three letters, such as EUR")] = "EUR"
    commission_percent: Annotated[float, Field(ge=0, lt=100, description="What the venue keeps of a sale")] = 0.0
    lux: Annotated[float | None, Field(gt=0, le=100_000, description="Measured light on the pieces")] = None
    hours_a_day: Annotated[float | None, Field(gt=0, le=24, description="Hours a day the light is on")] = None
    transport: Annotated[Text, Field(description="How the pieces travel and who carries the risk, as agreed")] = ""
    cases: Annotated[tuple[Case, ...], Field(max_length=40)] = ()
    shown: Annotated[tuple[Shown, ...], Field(max_length=400)] = ()
    labels: Labels = Labels()
    records: Annotated[tuple[PieceRecord, ...], Field(max_length=400)] = ()
    handling_fee: Annotated[Money | None, Field(description="What the venue charges a piece, if anything")] = None
