"""Photos of finished pieces: kept by name, never deleted; a piece's record says which of them are shown.

In: an open store, a JPEG.  Out: names and bytes.
"""

from uuid import NAMESPACE_OID, UUID, uuid4, uuid5

from sqlalchemy import func, select

from polestitch.errors import DesignError
from polestitch.store.designs import MissingError
from polestitch.store.entries import entry_row
from polestitch.store.store import Store
from polestitch.store.tables import EntryPhotoRow, PhotoRow

MOST_PHOTOS = 200


def add_entry_photo(store: Store, id_: str, data: bytes) -> str:
    """The name of a photo, now kept; ``DesignError`` for too many."""
    with store.writing() as session:
        entry_row(session, id_, "piece")
        count = session.scalar(select(func.count()).where(EntryPhotoRow.entry == id_)) or 0
        if count >= MOST_PHOTOS:
            raise DesignError("photos", f"a piece keeps {MOST_PHOTOS} photos and has as many already")
        row = EntryPhotoRow(id=uuid4().hex, entry=id_, at=store.stamp(), data=data)
        session.add(row)
        session.flush()
        return row.id


def entry_photo(store: Store, id_: str, name: str) -> bytes:
    """A photo's bytes; ``MissingError`` where the piece has none of that name."""
    with store.reading() as session:
        row = session.get(EntryPhotoRow, (id_, name))
        if row is None:
            raise MissingError("photo", "there is no such photo of this piece")
        return row.data


def entry_photo_names(store: Store, id_: str) -> tuple[str, ...]:
    """Every photo that was ever added, the first first."""
    with store.reading() as session:
        query = select(EntryPhotoRow.id).where(EntryPhotoRow.entry == id_)
        return tuple(session.scalars(query.order_by(EntryPhotoRow.at, EntryPhotoRow.id)))


def chair_photos(store: Store, id_: str, piece: str | None) -> tuple[str, ...]:
    """Photos pinned to steps while the piece was stitched that its record has not taken over yet."""
    with store.reading() as session:
        here = set(session.scalars(select(EntryPhotoRow.id).where(EntryPhotoRow.entry == id_)))
        query = select(PhotoRow.id).where(PhotoRow.piece == piece).order_by(PhotoRow.at, PhotoRow.id)
        return tuple(photo for photo in session.scalars(query) if _taken_name(id_, photo) not in here)


def take_chair_photos(store: Store, id_: str, piece: str | None) -> tuple[str, ...]:
    """The names under which the record now keeps those photos too."""
    wanted = chair_photos(store, id_, piece)
    with store.writing() as session:
        for photo in wanted:
            kept = session.get_one(PhotoRow, photo)
            session.add(EntryPhotoRow(id=_taken_name(id_, photo), entry=id_, at=kept.at, data=kept.data))
    return tuple(_taken_name(id_, photo) for photo in wanted)


def _taken_name(id_: str, photo: str) -> str:
    """The same every time, so that no photo is taken over twice."""
    return uuid5(NAMESPACE_OID, f"{UUID(id_)} {UUID(photo)}").hex
