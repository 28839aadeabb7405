"""Addresses of the shelf: designs, their revisions and pictures, archives, backups."""

import tempfile
from typing import Annotated, Any

from fastapi import File, Path, Query, Request, Response, UploadFile
from fastapi.responses import FileResponse, JSONResponse
from starlette.background import BackgroundTask

from polestitch.document.jsontext import json_object
from polestitch.document.limits import around_mm
from polestitch.errors import DesignError
from polestitch.families.family import starter
from polestitch.store import archive, backups, designs, pictures, shelf
from polestitch.studio import messages as say
from polestitch.studio.addresses.reading import documented, whole
from polestitch.studio.answers import look_answer
from polestitch.studio.examples import EMPTY_AROUND, empty_ball, example, example_texts
from polestitch.studio.studio import Here, Studio

Id = Annotated[str, Path(pattern=r"^[0-9a-f]{32}$")]
Revision = Annotated[int, Path(ge=1, le=2**31)]
PAINTER = "3"  # raised when balls come to look different, so that old pictures are painted anew


def cards(here: Here, wanted: Annotated[say.WantedCards, Query()]) -> Response:
    """What lies on the shelf."""
    found = shelf.shelf(here.store, shelf.Wanted(**{**wanted.model_dump(), "tag": wanted.tag or None}))
    listed = tuple(say.card_of(card) for card in found.cards)
    answer = say.Shelf.model_construct(cards=listed, total=found.total, tags=found.tags)
    return Response(answer.__pydantic_serializer__.to_json(answer), media_type="application/json")


def new_design(here: Here, wanted: say.NewDesign) -> say.Card:
    """A design from an example, an empty ball, or a copy."""
    return say.card_of(designs.add_design(here.store, _begun(here, wanted)))


def _begun(here: Studio, wanted: say.NewDesign) -> dict[str, Any]:
    if wanted.origin == "example":
        raw = example(wanted.example or "")
        if raw is None:
            raise DesignError("example", f"there is no such example; there are {', '.join(example_texts())}")
        return raw
    if wanted.origin == "empty":
        around = wanted.around or EMPTY_AROUND
        around_mm(around, "around")
        return empty_ball(" ".join(around.split()))
    if wanted.origin == "family":
        size = None if wanted.around is None else around_mm(wanted.around, "around")
        return starter(wanted.family or "", size, wanted.division)
    if wanted.copy_of is None:
        raise DesignError("copy_of", "say which design to copy")
    return designs.copied(here.store, wanted.copy_of, wanted.revision)


async def import_design(here: Here, file: Annotated[UploadFile, File()]) -> say.Card:
    """A design from a file; what cannot be made is kept all the same, and told."""
    raw = json_object(await whole(file, 5_000_000), (file.filename or "file")[:80])
    return say.card_of(await documented(designs.add_design, here.store, raw))


def design(here: Here, id: Id) -> say.OpenedDesign:
    """A design to work on."""
    card, raw = designs.document(here.store, id)
    return say.OpenedDesign(card=say.card_of(card), document=raw, base=card.revision)


def save(here: Here, id: Id, change: say.Save) -> Response:
    """Keep a change; on an old revision it is kept beside, as a design of its own."""
    done = designs.saved(here.store, id, designs.Change(change.base, change.document, change.tab, change.label))
    if done.kept_as is None:
        return JSONResponse({"revision": done.revision})
    what = f'another window has changed this design; what you did here is kept as "{done.kept_as.name}"'
    parted = say.Parted(where="base", what=what, current=done.revision, kept_as=say.card_of(done.kept_as))
    return JSONResponse(parted.model_dump(mode="json"), status_code=409)


def change_card(here: Here, id: Id, change: say.CardChange) -> say.Card:
    """Other tags; put away, or brought back."""
    return say.card_of(designs.change_card(here.store, id, change.tags, change.away))


def timeline(here: Here, id: Id) -> say.Timeline:
    """Every revision of a design."""
    entries = (
        say.RevisionEntry(
            revision=each.revision,
            at=each.at,
            label=each.label,
            picture=say.picture_address(id, each.revision, each.document),
        )
        for each in designs.revisions(here.store, id)
    )
    return say.Timeline(revisions=tuple(entries))


def old_document(here: Here, id: Id, revision: Revision) -> say.OldDocument:
    """The document of one revision."""
    return say.OldDocument(document=designs.document(here.store, id, revision)[1])


def label_revision(here: Here, id: Id, revision: Revision, label: say.Label) -> say.Label:
    """Name a revision."""
    designs.label_revision(here.store, id, revision, label.label)
    return label


async def picture(here: Here, request: Request, id: Id, wanted: Annotated[say.WantedPicture, Query()]) -> Response:
    """A picture of a revision; of the newest where ``r`` is 0.  Painted once."""
    r, size, facing = wanted.r, wanted.size, wanted.facing
    card, raw = await documented(designs.document, here.store, id, r or None)
    text = designs.document_text(raw)
    sha = designs.sha_of(text)
    key = pictures.picture_key(PAINTER, size, facing, sha)
    # A revision's number may come to mean another document when a backup is restored; its content's name does not.
    keep = "private, max-age=31536000, immutable" if wanted.v == sha[: say.SHORT] else "private, no-cache"
    headers = {"etag": f'"{key}"', "cache-control": keep}
    if request.headers.get("if-none-match") == headers["etag"]:
        return Response(status_code=304, headers=headers)
    data = await documented(pictures.known_picture, here.store, key)
    if data is None:
        data, wrong = await here.painters.answer_while_wanted(request, look_answer, text, size, facing, False)
        await documented(pictures.keep_picture, here.store, key, data)
        told = None if wrong is None else (wrong["where"], wrong["what"])
        await documented(designs.note_wrong, here.store, id, r or card.revision, told)
    return Response(data, media_type="image/png", headers=headers)


def document_file(here: Here, id: Id) -> Response:
    """The design document as a file."""
    card, raw = designs.document(here.store, id)
    headers = {"content-disposition": f'attachment; filename="{_file_name(card.name)}.json"'}
    return Response(designs.document_text(raw) + "\n", media_type="application/json", headers=headers)


def _file_name(name: str) -> str:
    plain = "".join(letter if letter.isascii() and letter.isalnum() else "-" for letter in name.lower())
    return "-".join(part for part in plain.split("-") if part)[:60] or "ball"


def archive_file(here: Here) -> Response:
    """Everything as one file."""
    from pathlib import Path as FilePath

    # Where the work lies there is room for it, or a full disk is told before anything is sent.
    with tempfile.NamedTemporaryFile(dir=here.store.folder, prefix=".archive.", suffix=".part", delete=False) as file:
        path = FilePath(file.name)
        try:
            archive.write_archive(here.store, file)
        except BaseException:
            path.unlink(missing_ok=True)
            raise
    name = f"polestitch-{here.store.clock():%Y-%m-%d}.zip"
    return FileResponse(path, media_type="application/zip", filename=name, background=BackgroundTask(path.unlink))


def take_archive(here: Here, file: Annotated[UploadFile, File()]) -> say.TakenArchive:
    """Bring back an archive; it is verified whole before anything is touched."""
    taken = archive.take_archive(here.store, file.file)
    return say.TakenArchive(added=taken.added, already=taken.already)


def backup_list(here: Here) -> say.Backups:
    """Every backup."""
    found = (say.Backup(name=each.name, at=each.at, bytes=each.bytes) for each in backups.backups(here.store))
    return say.Backups(backups=tuple(found))


def restore(here: Here, name: Annotated[str, Path(max_length=80)]) -> say.Restored:
    """Turn everything back to a backup; one of the present state is made first."""
    return say.Restored(before=backups.restore(here.store, name))
