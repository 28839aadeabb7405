"""The record of one finished piece: what she knows of it, and nothing she did not say.

In: nothing.  Out: frozen pydantic models.  Everything but number and title may be left empty, and what is empty is
told nowhere.
"""

from datetime import date
from typing import Annotated, Literal

from pydantic import Field

from polestitch.document.design import Record
from polestitch.document.lengths import Length
from polestitch.document.money import Money

Line = Annotated[str, Field(max_length=200)]
Text = Annotated[str, Field(max_length=4000)]
Number = Annotated[str, Field(min_length=1, max_length=40, description="Inventory number, such as HL-03")]
Where = Literal["studio", "on show", "lent", "sold", "given", "away"]


class ThreadUsed(Record):
    """A thread or other material of the finished piece."""

    name: Annotated[Line, Field(description="What it is, such as 'pearl cotton 5, amber'")]
    fibre: Annotated[Line, Field(description="What it is spun from")] = ""
    colour: Annotated[Line, Field(description="The colour in words")] = ""


class Photo(Record):
    """A photograph of the piece."""

    file: Annotated[str, Field(max_length=200, description="A file beside the show's, or a photo the studio keeps")]
    words: Annotated[Line, Field(description="What it shows, for who cannot see it")] = ""
    credit: Annotated[Line, Field(description="Who took it")] = ""


class Happening(Record):
    """Something that happened to the piece: made, shown, lent, sold, mended."""

    on: date | None = None
    words: Line


class Condition(Record):
    """How the piece was found when it was looked at."""

    on: date | None = None
    by: Line = ""
    words: Text


class Place(Record):
    """Where the piece is now."""

    where: Where = "studio"
    with_whom: Annotated[Line, Field(description="Venue, borrower or buyer, as far as she wants it written")] = ""
    since: date | None = None
    until: date | None = None


class PieceRecord(Record):
    """One finished piece."""

    number: Number
    title: Annotated[str, Field(min_length=1, max_length=80, description="The title she gave this piece")]
    pattern: Annotated[Line, Field(description="The pattern's name: the technique, not the title")] = ""
    maker: Line = ""
    design: Annotated[
        str | None, Field(max_length=200, description="Its design: a file beside the show's, or an id")
    ] = None
    piece: Annotated[str | None, Field(max_length=40, description="The piece of the Chair it was stitched as")] = None
    around: Annotated[Length | None, Field(description="Measured circumference of the finished ball")] = None
    weight_g: Annotated[float | None, Field(gt=0, le=20_000, description="Measured weight in grams")] = None
    division: Line = ""
    core: Annotated[Line, Field(description="What is inside: hulls, foam, wool …")] = ""
    threads: Annotated[tuple[ThreadUsed, ...], Field(max_length=60)] = ()
    hours: Annotated[float | None, Field(gt=0, le=10_000, description="Hours of work")] = None
    hours_estimated: Annotated[bool, Field(description="The hours are an estimate, not counted while working")] = False
    begun: date | None = None
    finished: date | None = None
    photos: Annotated[tuple[Photo, ...], Field(max_length=60)] = ()
    provenance: Annotated[tuple[Happening, ...], Field(max_length=200)] = ()
    condition: Annotated[tuple[Condition, ...], Field(max_length=200)] = ()
    care: Text = ""
    price: Annotated[Money | None, Field(description="What it sells for; none: not for sale or not said")] = None
    insured: Annotated[Money | None, Field(description="What it is insured for")] = None
    place: Place = Place()
    small_parts: Annotated[Line, Field(description="Bells, beads, pins or wire in or on it, in words")] = ""
    text: Annotated[Text, Field(description="What the label and catalogue say about it")] = ""
    plain: Annotated[Text, Field(description="The same in plain language: short sentences, no terms")] = ""
    notes: Annotated[Text, Field(description="For herself; printed nowhere")] = ""
