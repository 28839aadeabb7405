"""Pictures that were painted before, so that the shelf opens at once.

In: an open store and the words that tell a picture apart.  Out: its bytes, if they are still there.
"""

from sqlalchemy import delete

from polestitch.store.blobs import blob, kept_blob, sha_of
from polestitch.store.store import Store
from polestitch.store.tables import PictureRow

MOST_BYTES = 400_000_000


def picture_key(*words: object) -> str:
    """A short name for a document, a view, a size and a painter."""
    return sha_of("\n".join(str(word) for word in words).encode())


def known_picture(store: Store, key: str) -> bytes | None:
    """The picture, or None where it has to be painted."""
    with store.reading() as session:
        row = session.get(PictureRow, key)
        return None if row is None else blob(store.blobs, row.blob)


def keep_picture(store: Store, key: str, data: bytes) -> None:
    """Remember a picture."""
    name = kept_blob(store.blobs, data)
    with store.writing() as session:
        session.merge(PictureRow(key=key, blob=name))


def clear_pictures(store: Store, most_bytes: int = MOST_BYTES) -> None:
    """Forget all pictures when they take too much room: each can be painted again."""
    paths = [path for path in store.blobs.rglob("*") if path.is_file()]
    if sum(path.stat().st_size for path in paths) <= most_bytes:
        return
    with store.writing() as session:
        session.execute(delete(PictureRow))
    for path in paths:
        path.unlink(missing_ok=True)
