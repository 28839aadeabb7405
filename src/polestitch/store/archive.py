"""Everything as one archive, and back: a ZIP file that is verified whole before anything is touched.

In: an open store; a file.  Out: a file; what was added.

``archive.json`` lists the designs with their revisions, and every document file with its SHA-256 and its size;
``documents/SHA.json`` holds each document once; other work lies in files of its own (``archived.py``) that are listed
with SHA-256 and size too.  Nothing else may be in it, so no name in the file ever becomes a path on disk.
"""

import json
import struct
import zipfile
import zlib
from dataclasses import dataclass
from typing import IO, Annotated, Literal
from uuid import NAMESPACE_URL, UUID, uuid5

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field, ValidationError
from sqlalchemy import select
from sqlalchemy.orm import Session

from polestitch.document.jsontext import MOST_BYTES, json_object
from polestitch.errors import DesignError
from polestitch.store.archived import WORK, Work, checked_work, take_work, work_files
from polestitch.store.blobs import sha_of as sha_of_bytes
from polestitch.store.designs import keep_text, sha_of, show_of
from polestitch.store.moments import stamp_of
from polestitch.store.store import Store
from polestitch.store.tables import DesignRow, DocumentRow, RevisionRow, TagRow

INDEX = "archive.json"
MOST_INDEX_BYTES, MOST_ALL_BYTES, MOST_FILES = 64_000_000, 1_000_000_000, 200_000
# What Python's reader raises over a file that is torn, encrypted, or packed in a way it does not know.
DAMAGE = (zipfile.BadZipFile, zlib.error, struct.error, NotImplementedError, RuntimeError, EOFError, ValueError)
MOST_WORK_BYTES = 400_000_000  # five hundred photos of one piece
Sha = Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]


class _Part(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class ArchivedRevision(_Part):
    """One revision of the archive."""

    number: Annotated[int, Field(ge=1, le=2**31)]
    at: AwareDatetime
    label: Annotated[str | None, Field(max_length=80)] = None
    document: Sha


class ArchivedDesign(_Part):
    """One design of the archive."""

    id: Annotated[str, Field(pattern=r"^[0-9a-f]{32}$")]
    tags: Annotated[tuple[Annotated[str, Field(min_length=1, max_length=40)], ...], Field(max_length=20)] = ()
    away_at: AwareDatetime | None = None
    revisions: Annotated[tuple[ArchivedRevision, ...], Field(min_length=1)]


class ArchiveIndex(_Part):
    """What the archive says of itself."""

    kind: Literal["polestitch archive"] = "polestitch archive"
    format: Literal[1] = 1
    designs: tuple[ArchivedDesign, ...] = ()
    documents: dict[Sha, Annotated[int, Field(ge=0, le=MOST_BYTES)]] = {}
    work: dict[Annotated[str, Field(pattern=WORK)], tuple[Sha, Annotated[int, Field(ge=0, le=MOST_WORK_BYTES)]]] = {}


@dataclass(frozen=True)
class Taken:
    """How many designs an archive added, and how many were there already."""

    added: int
    already: int


def write_archive(store: Store, file: IO[bytes]) -> None:
    """Every design with every revision, put-away ones too; the same store gives the same bytes."""
    with store.reading() as session, zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        files = work_files(session)
        work = {name: (sha_of_bytes(data), len(data)) for name, data in files.items()}
        index = _index(session).model_copy(update={"work": work})
        archive.writestr(_entry(INDEX), index.model_dump_json(indent=1))
        for sha in sorted(index.documents):
            archive.writestr(_entry(f"documents/{sha}.json"), session.get_one(DocumentRow, sha).text)
            session.expire_all()
        for name, data in files.items():
            archive.writestr(_entry(name), data)


def take_archive(store: Store, file: IO[bytes]) -> Taken:
    """Add the designs of an archive; ``DesignError`` and nothing changed where any of it is not right."""
    try:
        with zipfile.ZipFile(file) as archive:
            index, texts, work = _verified(archive)
    except DesignError:
        raise
    except DAMAGE:
        raise _refused("is damaged or no archive") from None
    with store.writing() as session:
        outcomes = [_take(session, design, texts) for design in index.designs]
        take_work(session, work)
    return Taken(sum(outcomes), len(outcomes) - sum(outcomes))


def _refused(reason: str) -> DesignError:
    return DesignError("archive", f"{reason}; nothing of it was taken, choose a file that Polestitch exported")


def _entry(name: str) -> zipfile.ZipInfo:
    entry = zipfile.ZipInfo(name)
    entry.compress_type = zipfile.ZIP_DEFLATED
    return entry


def _index(session: Session) -> ArchiveIndex:
    listed: dict[str, list[ArchivedRevision]] = {}
    for row in session.scalars(select(RevisionRow).order_by(RevisionRow.design, RevisionRow.number)):
        entry = {"number": row.number, "at": row.at, "label": row.label, "document": row.document}
        listed.setdefault(row.design, []).append(ArchivedRevision.model_validate(entry))
    tags: dict[str, list[str]] = {}
    for tag in session.scalars(select(TagRow).order_by(TagRow.tag)):
        tags.setdefault(tag.design, []).append(tag.tag)
    designs = [
        {"id": row.id, "tags": tags.get(row.id, []), "away_at": row.away_at, "revisions": listed[row.id]}
        for row in session.scalars(select(DesignRow).order_by(DesignRow.id))
    ]
    sizes = {row.sha: len(row.text.encode()) for row in session.scalars(select(DocumentRow))}
    used = {entry.document for entries in listed.values() for entry in entries}
    documents = {sha: size for sha, size in sizes.items() if sha in used}
    return ArchiveIndex.model_validate({"designs": designs, "documents": documents})


def _verified(archive: zipfile.ZipFile) -> tuple[ArchiveIndex, dict[str, str], Work]:
    """The index, every document's text by its SHA-256, and drawer, pieces, records and shows."""
    entries = archive.infolist()
    names = [entry.filename for entry in entries]
    if len(entries) > MOST_FILES or sum(entry.file_size for entry in entries) > MOST_ALL_BYTES:
        raise _refused("is larger than any shelf")
    if len(set(names)) < len(names) or INDEX not in names:
        raise _refused("is no archive of Polestitch")
    index = _read_index(archive)
    if set(names) != {INDEX, *index.work, *(f"documents/{sha}.json" for sha in index.documents)}:
        raise _refused("does not hold exactly the files it lists")
    texts = {sha: _document(archive, sha, size) for sha, size in index.documents.items()}
    _refuse_loose_ends(index)
    return index, texts, _work(archive, index)


def _work(archive: zipfile.ZipFile, index: ArchiveIndex) -> Work:
    files = {}
    for name, (sha, size) in index.work.items():
        files[name] = _bytes(archive, name, size)
        if sha_of_bytes(files[name]) != sha:
            raise _refused("holds a piece of work that was changed on its way")
    try:
        return checked_work(files)
    except (ValueError, DesignError):
        raise _refused("holds a drawer, a piece, a show or other work that this Polestitch cannot read") from None


def _read_index(archive: zipfile.ZipFile) -> ArchiveIndex:
    data = _bytes(archive, INDEX, MOST_INDEX_BYTES)
    try:
        return ArchiveIndex.model_validate_json(data)
    except ValidationError:
        raise _refused("holds a list of designs that this Polestitch cannot read") from None


def _document(archive: zipfile.ZipFile, sha: str, size: int) -> str:
    data = _bytes(archive, f"documents/{sha}.json", size)
    try:
        text = data.decode()
    except UnicodeDecodeError:
        raise _refused("holds a document that is no text") from None
    if len(data) != size or sha_of(text) != sha:
        raise _refused("holds a document that was changed on its way")
    try:
        json_object(text, "document")
    except DesignError:
        raise _refused("holds a document that is no design") from None
    return text


def _bytes(archive: zipfile.ZipFile, name: str, most: int) -> bytes:
    """Read no more than ``most`` bytes, whatever the entry says of its size."""
    with archive.open(name) as entry:
        data = entry.read(most + 1)
    if len(data) > most:
        raise _refused("holds a file larger than it says")
    return data


def _refuse_loose_ends(index: ArchiveIndex) -> None:
    used = {revision.document for design in index.designs for revision in design.revisions}
    if used != set(index.documents):
        raise _refused("lists documents that it does not hold")
    for design in index.designs:
        numbers = [revision.number for revision in design.revisions]
        if numbers != sorted(set(numbers)):
            raise _refused("lists revisions out of order")
    if len({design.id for design in index.designs}) < len(index.designs):
        raise _refused("lists a design twice")


def _take(session: Session, design: ArchivedDesign, texts: dict[str, str]) -> bool:
    """Whether the design was added: it is not where all its revisions are here already."""
    mine = {(revision.number, revision.document) for revision in design.revisions}
    # The second name is the same every time, so that taking an archive twice adds nothing the second time.
    content = json.dumps(sorted(mine))
    for name in (design.id, uuid5(NAMESPACE_URL, f"{UUID(design.id)} {sha_of(content)}").hex):
        query = select(RevisionRow.number, RevisionRow.document).where(RevisionRow.design == name)
        here = {(number, document) for number, document in session.execute(query)}
        if mine <= here:
            return False
        if not here:
            _add(session, name, design, texts)
            return True
    return False


def _add(session: Session, name: str, design: ArchivedDesign, texts: dict[str, str]) -> None:
    for revision in design.revisions:
        keep_text(session, texts[revision.document])
    last = design.revisions[-1]
    away = None if design.away_at is None else stamp_of(design.away_at)
    row = DesignRow(id=name, revision=last.number, document=last.document, away_at=away)
    show_of(row, texts[last.document], stamp_of(last.at))
    session.add(row)
    session.flush()
    for entry in design.revisions:
        kept = {"design": name, "number": entry.number, "document": entry.document, "label": entry.label, "tab": ""}
        session.add(RevisionRow(at=stamp_of(entry.at), **kept))
    session.add_all(TagRow(design=name, tag=tag) for tag in dict.fromkeys(design.tags))
    session.flush()
