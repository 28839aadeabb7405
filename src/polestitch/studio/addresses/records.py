"""Addresses of finished pieces: their records, pictures and photos, what they were before."""

from typing import Annotated, Any

from fastapi import File, Path, Query, Request, Response, UploadFile

from polestitch.chair.fold import folded
from polestitch.document.jsontext import json_object
from polestitch.errors import DesignError
from polestitch.picture.photograph import made_anew
from polestitch.showing.codec import read_record, written_record
from polestitch.showing.record import PieceRecord
from polestitch.store import designs, entries, entry_photos, pieces
from polestitch.store.designs import MissingError
from polestitch.studio import messages_showing as say
from polestitch.studio.addresses.reading import documented, whole
from polestitch.studio.faces import face, face_address
from polestitch.studio.messages_chair import Away
from polestitch.studio.records import from_design, from_piece, next_number
from polestitch.studio.studio import Here, Studio

Id = Annotated[str, Path(pattern=r"^[0-9a-f]{32}$")]
Raw = dict[str, Any]
Known = tuple[Raw, str | None]


def records(here: Here, away: bool = False) -> say.Records:
    """Every finished piece, and the number to give the next."""
    found = entries.entries(here.store, "piece", away)
    return say.Records(records=tuple(map(_card, found)), next_number=_next_number(here))


def _next_number(here: Studio) -> str:
    return next_number([each.name for each in entries.entries(here.store, "piece")])


def _card(found: entries.Entry) -> say.RecordCard:
    record = PieceRecord.model_validate(found.body)
    return say.RecordCard(
        id=found.id,
        number=record.number,
        title=record.title,
        pattern=record.pattern,
        maker=record.maker,
        where=record.place.where,
        with_whom=record.place.with_whom,
        around=None if record.around is None else str(record.around),
        price=None if record.price is None else str(record.price),
        finished=None if record.finished is None else record.finished.isoformat(),
        changed=found.changed,
        away=found.away,
        picture=face_address(found),
    )


def begin_record(here: Here, wanted: say.NewRecord) -> say.OpenedRecord:
    """A record with what is known already."""
    known, text = _known(here, wanted)
    mine = entries.entries(here.store, "piece")
    maker = next((each.body["maker"] for each in reversed(mine) if each.body.get("maker")), "")
    raw = {"title": "New piece", **({"maker": maker} if maker else {}), **known, "number": _next_number(here)}
    return _opened(here, entries.add_entry(here.store, "piece", entries.Keep(_plain(raw), text=text)))


def _known(here: Studio, wanted: say.NewRecord) -> Known:
    if wanted.piece is not None:
        piece = pieces.piece(here.store, wanted.piece)
        text = pieces.piece_text(here.store, wanted.piece)
        state = folded(pieces.events(here.store, wanted.piece)[0])
        return {**from_piece(piece, json_object(text, "design"), state), "design": piece.design}, text
    if wanted.design is not None:
        raw = designs.document(here.store, wanted.design)[1]
        return {**from_design(raw), "design": wanted.design}, designs.document_text(raw)
    return {}, None


def _plain(raw: Raw) -> Raw:
    """The record as it is kept: checked, without what is empty."""
    return json_object(written_record(read_record(designs.document_text(raw))), "record")


def record(here: Here, id: Id) -> say.OpenedRecord:
    """A record to write in."""
    return _opened(here, entries.entry(here.store, "piece", id))


def _opened(here: Studio, found: entries.Entry) -> say.OpenedRecord:
    written = PieceRecord.model_validate(found.body)
    return say.OpenedRecord(
        id=found.id,
        version=found.version,
        record=written,
        kept_photos=entry_photos.entry_photo_names(here.store, found.id),
        chair_photos=len(entry_photos.chair_photos(here.store, found.id, written.piece)),
        design_name=_design_name(here, written.design),
        changed=found.changed,
        away=found.away,
        picture=face_address(found),
    )


def _design_name(here: Studio, design: str | None) -> str | None:
    try:
        return None if design is None else designs.document(here.store, design)[0].name
    except MissingError:
        return None


def keep_record(here: Here, id: Id, change: say.KeepRecord) -> say.OpenedRecord:
    """Keep a change; refused where another window has changed the record meanwhile."""
    old = entries.entry(here.store, "piece", id)
    body = _plain(change.record)
    _refuse_strange_photos(here, id, body)
    text = _text_of(here, old, body)
    keep = entries.Keep(body, change.base, change.tab, text)
    return _opened(here, entries.keep_entry(here.store, "piece", id, keep))


def _refuse_strange_photos(here: Studio, id_: str, body: Raw) -> None:
    kept = set(entry_photos.entry_photo_names(here.store, id_))
    for k, photo in enumerate(body.get("photos", ())):
        if photo["file"] not in kept:
            raise DesignError(f"photos[{k}].file", "is no photo of this piece; add the photo first")


def _text_of(here: Studio, old: entries.Entry, body: Raw) -> str | None:
    """The document of a design that the record names anew."""
    if body.get("design") is None or body["design"] == old.body.get("design"):
        return None
    return designs.document_text(designs.document(here.store, body["design"])[1])


def put_record_away(here: Here, id: Id, change: Away) -> say.RecordCard:
    """Put away, or brought back."""
    return _card(entries.put_entry_away(here.store, "piece", id, change.away))


def record_versions(here: Here, id: Id) -> say.EarlierVersions:
    """What the record was."""
    return earlier(entries.entry_versions(here.store, "piece", id))


def earlier(versions: tuple[entries.Version, ...]) -> say.EarlierVersions:
    """Versions as they are told."""
    told = (
        say.EarlierVersion(version=each.number, at=each.at, title=str(each.body["title"]), body=each.body)
        for each in versions
    )
    return say.EarlierVersions(versions=tuple(told))


async def record_picture(
    here: Here,
    id: Id,
    request: Request,
    size: Annotated[int, Query(ge=32, le=1600)] = 480,
    v: Annotated[str, Query(max_length=64)] = "",
) -> Response:
    """The piece's first photo, or its design drawn."""
    found = await documented(entries.entry, here.store, "piece", id)
    data = await face(here, found, size, here.painters)
    if data is None:
        raise MissingError("picture", "there is neither a photo of this piece nor a design to draw it from")
    keep = "private, max-age=31536000, immutable" if v else "private, no-cache"
    media = "image/jpeg" if data.startswith(b"\xff\xd8") else "image/png"
    return Response(data, media_type=media, headers={"cache-control": keep})


async def add_record_photo(here: Here, id: Id, file: Annotated[UploadFile, File()]) -> say.OpenedRecord:
    """A photo, made anew from its pixels, behind those that are there."""
    await documented(entries.entry, here.store, "piece", id)
    anew = await here.painters.answer(made_anew, await whole(file, 30_000_000))
    return await documented(_with_photos, here, id, anew)


def _with_photos(here: Studio, id_: str, data: bytes) -> say.OpenedRecord:
    return _showing(here, id_, (entry_photos.add_entry_photo(here.store, id_, data),))


def take_chair_photos(here: Here, id: Id) -> say.OpenedRecord:
    """Take over the photos that were pinned to steps while the piece was stitched."""
    found = entries.entry(here.store, "piece", id)
    return _showing(here, id, entry_photos.take_chair_photos(here.store, id, found.body.get("piece")))


def _showing(here: Studio, id_: str, names: tuple[str, ...]) -> say.OpenedRecord:
    """The record with these photos behind the others."""
    found = entries.entry(here.store, "piece", id_)
    photos = [*found.body.get("photos", ()), *({"file": name} for name in names)]
    body = _plain({**found.body, "photos": photos})
    return _opened(here, entries.keep_entry(here.store, "piece", id_, entries.Keep(body, found.version)))


def record_photo(here: Here, id: Id, photo: Annotated[str, Path(pattern=r"^[0-9a-f]{32}$")]) -> Response:
    """A photo."""
    data = entry_photos.entry_photo(here.store, id, photo)
    return Response(data, media_type="image/jpeg", headers={"cache-control": "private, max-age=31536000, immutable"})
