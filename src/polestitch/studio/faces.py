"""Pictures of finished pieces: the first photograph of the record, else drawn from the design it was stitched from.

In: an entry of the store.  Out: JPEG or PNG bytes, or none where neither is known.  Drawn once, then remembered.
"""

from polestitch.picture.photograph import LARGEST, made_anew
from polestitch.store import pictures
from polestitch.store.designs import sha_of
from polestitch.store.entries import Entry, entry_text
from polestitch.store.entry_photos import entry_photo
from polestitch.studio.addresses.reading import documented
from polestitch.studio.answers import look_answer
from polestitch.studio.crew import Crew
from polestitch.studio.messages import SHORT
from polestitch.studio.studio import Studio

PAINTER = "3"  # raised when balls come to look different, as for the shelf


def face_address(found: Entry) -> str | None:
    """Where its picture lies, or none where there is nothing to show; another address for another picture."""
    name = _first_photo(found) or found.document
    return None if name is None else f"/api/records/{found.id}/picture?v={name[:SHORT]}"


def _first_photo(found: Entry) -> str | None:
    photos = found.body.get("photos") or ()
    return str(photos[0]["file"]) if photos else None


async def face(here: Studio, found: Entry, size: int, crew: Crew, facing: str = "N") -> bytes | None:
    """The picture with about ``size`` pixels on its longer side; drawn, it is turned with ``facing`` to the front."""
    photo = _first_photo(found)
    if photo is not None:
        return await documented(_photo, here, found.id, (photo, size))
    text = await documented(entry_text, here.store, found)
    return None if text is None else await _drawn(here, text, (size, facing), crew)


def _photo(here: Studio, id_: str, wanted: tuple[str, int]) -> bytes:
    photo, size = wanted
    if size >= LARGEST:
        return entry_photo(here.store, id_, photo)
    key = pictures.picture_key("photo", id_, photo, size)
    data = pictures.known_picture(here.store, key)
    if data is None:
        data = made_anew(entry_photo(here.store, id_, photo), size)
        pictures.keep_picture(here.store, key, data)
    return data


async def _drawn(here: Studio, text: str, look: tuple[int, str], crew: Crew) -> bytes | None:
    """The ball, or none where its design cannot be made whole."""
    key = pictures.picture_key(PAINTER, *look, sha_of(text))
    data: bytes | None = await documented(pictures.known_picture, here.store, key)
    if data is None:
        data, wrong = await crew.answer(look_answer, text, *look, False)
        if wrong is not None:
            return None
        await documented(pictures.keep_picture, here.store, key, data)
    return data
