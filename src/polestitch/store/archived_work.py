"""Drawer and pieces inside an archive: one file for the drawer, one for each piece.

In: a session.  Out: files' bytes by name, and the way back.  Paired devices are in no archive.
"""

import json
from typing import Annotated, Any, Literal

from pydantic import AwareDatetime, Base64Bytes, BaseModel, ConfigDict, Field, TypeAdapter
from sqlalchemy import select
from sqlalchemy.orm import Session

from polestitch.document.colours import Colour
from polestitch.document.jsontext import json_object
from polestitch.store.designs import keep_text
from polestitch.store.drawer import COLUMNS
from polestitch.store.moments import Moment, stamp_of
from polestitch.store.tables import (
    DocumentRow,
    EventRow,
    MoveRow,
    PartRow,
    PhotoRow,
    PieceRow,
    ThreadRow,
    UseRow,
)

Id = Annotated[str, Field(pattern=r"^[0-9a-f]{32}$")]
Words = Annotated[str, Field(max_length=4000)]
DRAWER = "drawer.json"


class _Part(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)


class _Move(_Part):
    id: Id
    at: Moment
    mm: float
    why: Words
    piece: Id | None = None


class _Thread(_Part):
    id: Id
    name: Annotated[str, Field(min_length=1, max_length=60)]
    fibre: Words
    size: Words
    colour: Colour
    rows_per_cm: float | None = None
    skein_mm: float | None = None
    price: float | None = None
    currency: Words | None = None
    shelf: Words | None = None
    lot: Words | None = None
    note: Words | None = None
    away_at: Moment | None = None
    changed: Moment
    moves: tuple[_Move, ...] = ()


class _Event(BaseModel):
    """What the order of events needs; the rest is kept as it is."""

    model_config = ConfigDict(frozen=True, extra="allow", allow_inf_nan=False)

    id: Id
    device: Annotated[str, Field(max_length=64)]
    seq: Annotated[int, Field(ge=0)]
    clock: Annotated[int, Field(ge=0, le=2**53)]
    at: AwareDatetime
    kind: Annotated[str, Field(max_length=40)]


class _Layer(_Part):
    name: Words
    first: int
    steps: int


class _PieceThread(_Part):
    name: Words
    colour: Colour
    metallic: bool
    total_mm: float


class _Told(_Part):
    steps: Annotated[int, Field(ge=0, le=10**7)]
    around_mm: float
    layers: tuple[_Layer, ...]
    threads: tuple[_PieceThread, ...]
    span: tuple[float, float]
    hand: Literal["right", "left"]


class _Photo(_Part):
    id: Id
    at: Moment
    data: Base64Bytes


class _Piece(_Part):
    id: Id
    name: Annotated[str, Field(max_length=60)]
    design: Id
    revision: int
    document: str
    begun: Moment
    changed: Moment
    away_at: Moment | None = None
    told: _Told
    parts: dict[Annotated[str, Field(pattern=r"^(scene|sizes|steps \d{1,6})$")], Base64Bytes]
    events: tuple[_Event, ...] = ()
    uses: dict[Words, float] = {}
    photos: tuple[_Photo, ...] = ()


THREADS = TypeAdapter(tuple[_Thread, ...])


def thread_files(session: Session) -> dict[str, bytes]:
    """The file of the drawer, by name; none where it is empty."""
    threads = [_thread_told(session, row) for row in session.scalars(select(ThreadRow).order_by(ThreadRow.id))]
    return {DRAWER: _json(threads)} if threads else {}


def piece_files(session: Session) -> dict[str, bytes]:
    """The files of the pieces, by name."""
    rows = session.scalars(select(PieceRow).order_by(PieceRow.id))
    return {f"pieces/{row.id}.json": _json(_piece_told(session, row)) for row in rows}


def _json(value: Any) -> bytes:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":")).encode()


def _thread_told(session: Session, row: ThreadRow) -> dict[str, Any]:
    moves = session.scalars(select(MoveRow).where(MoveRow.thread == row.id).order_by(MoveRow.id))
    listed = [{"id": m.id, "at": m.at, "mm": m.mm, "why": m.why, "piece": m.piece} for m in moves]
    words = {name: getattr(row, name) for name in (*COLUMNS, "id", "away_at", "changed")}
    return {**words, "moves": listed}


def _piece_told(session: Session, row: PieceRow) -> dict[str, Any]:
    names = ("id", "name", "design", "revision", "begun", "changed", "away_at")
    parts = session.scalars(select(PartRow).where(PartRow.piece == row.id).order_by(PartRow.name))
    bodies = session.scalars(select(EventRow.body).where(EventRow.piece == row.id).order_by(EventRow.n))
    uses = session.scalars(select(UseRow).where(UseRow.piece == row.id).order_by(UseRow.name))
    photos = session.scalars(select(PhotoRow).where(PhotoRow.piece == row.id).order_by(PhotoRow.id))
    return {
        **{name: getattr(row, name) for name in names},
        "document": session.get_one(DocumentRow, row.document).text,
        "told": json.loads(row.told),
        "parts": {part.name: _base64(part.data) for part in parts},
        "events": [json.loads(body) for body in bodies],
        "uses": {use.name: use.mm for use in uses},
        "photos": [{"id": photo.id, "at": photo.at, "data": _base64(photo.data)} for photo in photos],
    }


def _base64(data: bytes) -> str:
    from base64 import b64encode

    return b64encode(data).decode()


def checked_threads(files: dict[str, bytes]) -> tuple[_Thread, ...]:
    """What the drawer's file holds; ``ValidationError`` where any of it is not right."""
    return THREADS.validate_json(files[DRAWER]) if DRAWER in files else ()


def checked_pieces(files: dict[str, bytes]) -> tuple[_Piece, ...]:
    """What the pieces' files hold; ``ValidationError`` or ``DesignError`` where any of it is not right."""
    pieces = tuple(_Piece.model_validate_json(data) for _, data in sorted(files.items()))
    for piece in pieces:
        json_object(piece.document, "document")
        if f"pieces/{piece.id}.json" not in files or not {"scene", "sizes"} <= set(piece.parts):
            raise ValueError("a piece lies under another name, or lacks a part")
    return pieces


def take_threads(session: Session, found: tuple[_Thread, ...]) -> None:
    """Add what is not here yet; of what is here, moves that are not."""
    for thread in found:
        _take_thread(session, thread)


def take_pieces(session: Session, found: tuple[_Piece, ...]) -> None:
    """Add what is not here yet; of what is here, events that are not."""
    for piece in found:
        _take_piece(session, piece)


def _take_thread(session: Session, thread: _Thread) -> None:
    if session.get(ThreadRow, thread.id) is None:
        told = thread.model_dump(mode="json", exclude={"moves"})
        session.add(ThreadRow(**told, sought=thread.name.casefold()))
        session.flush()
    for move in thread.moves:
        if session.get(MoveRow, move.id) is None:
            session.add(MoveRow(**move.model_dump(mode="json"), thread=thread.id))
    session.flush()


def _take_piece(session: Session, piece: _Piece) -> None:
    if session.get(PieceRow, piece.id) is None:
        names = {"id", "name", "design", "revision", "begun", "changed", "away_at"}
        row = PieceRow(**piece.model_dump(mode="json", include=names), told=piece.told.model_dump_json())
        row.document = keep_text(session, piece.document)
        session.add(row)
        session.flush()
        session.add_all(PartRow(piece=piece.id, name=name, data=data) for name, data in piece.parts.items())
        session.add_all(UseRow(piece=piece.id, name=name, mm=mm) for name, mm in piece.uses.items())
    here = set(session.scalars(select(EventRow.id)))
    fresh = [event for event in piece.events if event.id not in here]
    session.add_all(EventRow(id=event.id, piece=piece.id, body=_body(event)) for event in fresh)
    for photo in piece.photos:
        if session.get(PhotoRow, photo.id) is None:
            session.add(PhotoRow(id=photo.id, piece=piece.id, at=stamp_of(photo.at), data=photo.data))
    session.flush()


def _body(event: _Event) -> str:
    return json.dumps(json.loads(event.model_dump_json()), ensure_ascii=False)
