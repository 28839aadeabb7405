"""Records of pieces and shows inside an archive: one file for each.

In: a session.  Out: files' bytes by name, and the way back.  What would stand in the way of something here is taken
all the same, put away.
"""

import json
from base64 import b64encode
from typing import Annotated, Any, Literal
from uuid import NAMESPACE_URL, UUID, uuid5

from pydantic import AwareDatetime, Base64Bytes, BaseModel, ConfigDict, Field
from sqlalchemy import select
from sqlalchemy.orm import Session

from polestitch.document.jsontext import json_object
from polestitch.showing.exhibition import Exhibition
from polestitch.showing.record import PieceRecord
from polestitch.store.designs import keep_text, sha_of
from polestitch.store.entries import NAMED, is_taken
from polestitch.store.moments import stamp_of
from polestitch.store.tables import DocumentRow, EntryPhotoRow, EntryRow, EntryVersionRow

FOLDER = "entries/"
Id = Annotated[str, Field(pattern=r"^[0-9a-f]{32}$")]


class _Part(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)


class _Version(_Part):
    number: Annotated[int, Field(ge=1, le=2**31)]
    at: AwareDatetime
    body: dict[str, Any]


class _Photo(_Part):
    id: Id
    at: AwareDatetime
    data: Base64Bytes


class ArchivedEntry(_Part):
    """One record or show, as it is and as it was."""

    id: Id
    kind: Literal["piece", "show"]
    begun: AwareDatetime
    away_at: AwareDatetime | None = None
    document: str | None = None
    versions: Annotated[tuple[_Version, ...], Field(min_length=1)]
    photos: tuple[_Photo, ...] = ()

    @property
    def last(self) -> _Version:
        """What it is."""
        return self.versions[-1]


def showing_files(session: Session) -> dict[str, bytes]:
    """Every file of records and shows, by name; none where there are none."""
    rows = session.scalars(select(EntryRow).order_by(EntryRow.id)).all()
    return {f"{FOLDER}{row.id}.json": _json(_told(session, row)) for row in rows}


def _json(value: Any) -> bytes:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":")).encode()


def _told(session: Session, row: EntryRow) -> dict[str, Any]:
    versions = session.scalars(
        select(EntryVersionRow).where(EntryVersionRow.entry == row.id).order_by(EntryVersionRow.number)
    )
    photos = session.scalars(select(EntryPhotoRow).where(EntryPhotoRow.entry == row.id).order_by(EntryPhotoRow.id))
    return {
        **{name: getattr(row, name) for name in ("id", "kind", "begun", "away_at")},
        "document": None if row.document is None else session.get_one(DocumentRow, row.document).text,
        "versions": [{"number": each.number, "at": each.at, "body": json.loads(each.body)} for each in versions],
        "photos": [{"id": each.id, "at": each.at, "data": b64encode(each.data).decode()} for each in photos],
    }


def checked_showing(files: dict[str, bytes]) -> tuple[ArchivedEntry, ...]:
    """What the files hold; ``ValidationError``, ``ValueError`` or ``DesignError`` where any of it is not right."""
    found = tuple(ArchivedEntry.model_validate_json(data) for _, data in sorted(files.items()))
    for entry in found:
        _refuse_unsound(entry, files)
    return found


def _refuse_unsound(entry: ArchivedEntry, files: dict[str, bytes]) -> None:
    numbers = [version.number for version in entry.versions]
    if f"{FOLDER}{entry.id}.json" not in files or numbers != sorted(set(numbers)):
        raise ValueError("a record lies under another name, or lists its versions out of order")
    if entry.document is not None:
        json_object(entry.document, "document")
    model = PieceRecord if entry.kind == "piece" else Exhibition
    for version in entry.versions:
        model.model_validate_json(json.dumps(version.body))


def take_showing(session: Session, found: tuple[ArchivedEntry, ...]) -> None:
    """Add what is not here yet, and photos that are not."""
    for entry in found:
        name = _name_for(session, entry)
        if session.get(EntryRow, name) is None:
            _add(session, name, entry)
        _add_photos(session, name, entry)


def _name_for(session: Session, entry: ArchivedEntry) -> str:
    """Its own id, or, where that has become something else here, another that is the same every time."""
    query = select(EntryVersionRow.body).where(EntryVersionRow.entry == entry.id)
    here = [json.loads(body) for body in session.scalars(query)]
    if not here or entry.last.body in here:
        return entry.id
    return uuid5(NAMESPACE_URL, f"{UUID(entry.id)} {sha_of(json.dumps(entry.last.body, sort_keys=True))}").hex


def _add(session: Session, name: str, entry: ArchivedEntry) -> None:
    last = entry.last
    row = EntryRow(id=name, kind=entry.kind, name=str(last.body[NAMED[entry.kind]]), version=last.number)
    row.body, row.changed, row.begun = _json(last.body).decode(), stamp_of(last.at), stamp_of(entry.begun)
    row.document = None if entry.document is None else keep_text(session, entry.document)
    in_the_way = name != entry.id or is_taken(session, row) is not None
    row.away_at = stamp_of(entry.away_at or last.at) if entry.away_at or in_the_way else None
    session.add(row)
    session.flush()
    for version in entry.versions:
        at, body = stamp_of(version.at), _json(version.body).decode()
        session.add(EntryVersionRow(entry=name, number=version.number, begun=at, at=at, tab="", body=body))
    session.flush()


def _add_photos(session: Session, name: str, entry: ArchivedEntry) -> None:
    """Under their own names, which the record calls them by."""
    for photo in entry.photos:
        if session.get(EntryPhotoRow, (name, photo.id)) is None:
            session.add(EntryPhotoRow(id=photo.id, entry=name, at=stamp_of(photo.at), data=photo.data))
    session.flush()
