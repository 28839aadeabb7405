"""Archives: everything out, everything back, and every trick refused before anything is touched."""

import io
import json
import struct
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from polestitch.errors import DesignError
from polestitch.store.archive import INDEX, take_archive, write_archive
from polestitch.store.designs import Change, add_design, change_card, document, label_revision, revisions, saved, sha_of
from polestitch.store.shelf import Wanted, shelf
from polestitch.store.store import Store, opened

Raw = dict[str, Any]
Files = dict[str, bytes]


@pytest.fixture
def full(store: Store, lamp: Raw) -> Store:
    card = add_design(store, lamp, ("winter",))
    saved(store, card.id, Change(1, {**lamp, "notes": "äöü 上掛け"}, "one", "with notes"))
    away = add_design(store, {**lamp, "name": "Away", "ball": "not a ball"})
    change_card(store, away.id, None, True)
    return store


@pytest.fixture
def other(tmp_path: Path) -> Any:
    made = opened(tmp_path / "other")
    yield made
    made.close()


def archived(store: Store) -> bytes:
    file = io.BytesIO()
    write_archive(store, file)
    return file.getvalue()


def taken(store: Store, data: bytes) -> tuple[int, int]:
    answer = take_archive(store, io.BytesIO(data))
    return answer.added, answer.already


def test_everything_comes_back_in_another_folder(full: Store, other: Store) -> None:
    assert taken(other, archived(full)) == (2, 0)
    for away in (False, True):
        assert shelf(other, Wanted(away=away)) == shelf(full, Wanted(away=away))
        for card in shelf(full, Wanted(away=away)).cards:
            assert revisions(other, card.id) == revisions(full, card.id)
            for entry in revisions(full, card.id):
                assert document(other, card.id, entry.revision) == document(full, card.id, entry.revision)


def test_the_same_archive_twice_adds_nothing(full: Store, other: Store) -> None:
    taken(other, archived(full))
    assert taken(other, archived(full)) == (0, 2)
    assert taken(full, archived(full)) == (0, 2)


def test_an_archive_older_than_the_shelf_adds_nothing(full: Store, lamp: Raw) -> None:
    data, card = archived(full), shelf(full, Wanted()).cards[0]
    saved(full, card.id, Change(2, {**lamp, "notes": "went on"}, "one"))
    assert taken(full, data) == (0, 2)


def test_a_design_that_went_another_way_is_added_beside_once(full: Store, other: Store, lamp: Raw) -> None:
    taken(other, archived(full))
    card = shelf(full, Wanted()).cards[0]
    saved(full, card.id, Change(2, {**lamp, "notes": "here"}, "one"))
    saved(other, card.id, Change(2, {**lamp, "notes": "there"}, "one"))
    assert taken(other, archived(full)) == (1, 1)
    assert taken(other, archived(full)) == (0, 2)
    assert {document(other, c.id)[1]["notes"] for c in shelf(other, Wanted()).cards} == {"here", "there"}


def test_the_same_shelf_gives_the_same_bytes(full: Store) -> None:
    label_revision(full, shelf(full, Wanted()).cards[0].id, 1, "named")
    assert archived(full) == archived(full)


def files_of(data: bytes) -> Files:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def packed(files: Files) -> bytes:
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in files.items():
            archive.writestr(name, data)
    return file.getvalue()


def with_index(files: Files, change: Callable[[Raw], object]) -> Files:
    index = json.loads(files[INDEX])
    change(index)
    return {**files, INDEX: json.dumps(index).encode()}


def first_document(files: Files) -> str:
    return next(name for name in files if name != INDEX)


def put_in(files: Files, text: bytes) -> Files:
    """A document of one's own in place of the first, with name, size and checksum that agree."""
    old = first_document(files)[10:74]
    new = sha_of(text.decode("utf-8", "replace"))
    swapped = {name.replace(old, new): text if old in name else data for name, data in files.items()}
    index = swapped[INDEX].decode().replace(old, new)
    return with_index({**swapped, INDEX: index.encode()}, lambda i: i["documents"].update({new: len(text)}))


def _twice(index: Raw) -> None:
    for design in index["designs"]:
        design["revisions"].append(design["revisions"][0])


def _of_nothing(index: Raw) -> None:
    index["designs"][0]["revisions"][0]["document"] = "0" * 64


TRICKS: dict[str, Callable[[Files], Files]] = {
    "a path out of the folder": lambda f: {**f, "../../evil.json": b"{}"},
    "an absolute path": lambda f: {**f, "/etc/evil.json": b"{}"},
    "a backslash path": lambda f: {**f, "documents\\..\\evil.json": b"{}"},
    "a file nobody listed": lambda f: {**f, "documents/readme.txt": b"hello"},
    "a document that is missing": lambda f: {n: d for n, d in f.items() if n != first_document(f)},
    "a document that was changed": lambda f: {**f, first_document(f): f[first_document(f)].replace(b"Lamp", b"Limp")},
    "no index": lambda f: {n: d for n, d in f.items() if n != INDEX},
    "an index that is no JSON": lambda f: {**f, INDEX: b"{"},
    "an index of another kind": lambda f: with_index(f, lambda i: i.update(kind="holiday photos")),
    "an index of a later format": lambda f: with_index(f, lambda i: i.update(format=2)),
    "a checksum that is a path": lambda f: with_index(f, lambda i: i["documents"].update({"../../x": 1})),
    "a design's name that is a path": lambda f: with_index(f, lambda i: i["designs"][0].update(id="../../etc/passwd")),
    "a design twice": lambda f: with_index(f, lambda i: i["designs"].append(i["designs"][0])),
    "revisions out of order": lambda f: with_index(f, _twice),
    "a revision of nothing": lambda f: with_index(f, _of_nothing),
    "a design without revisions": lambda f: with_index(f, lambda i: i["designs"][0].update(revisions=[])),
    "a document that is no JSON": lambda f: put_in(f, b"<html>"),
    "a document that is a list": lambda f: put_in(f, b"[1, 2]"),
    "a document with brackets without end": lambda f: put_in(f, b'{"a":' + b"[" * 5000 + b"]" * 5000 + b"}"),
    "nothing at all": lambda _: {},
}


@pytest.mark.parametrize("trick", TRICKS)
def test_a_trick_is_refused_and_nothing_is_touched(full: Store, other: Store, trick: str, tmp_path: Path) -> None:
    data = packed(TRICKS[trick](files_of(archived(full))))
    before = sorted(tmp_path.rglob("*"))
    with pytest.raises(DesignError, match="nothing of it was taken"):
        take_archive(other, io.BytesIO(data))
    assert shelf(other, Wanted()).total == 0
    assert sorted(tmp_path.rglob("*")) == before


@pytest.mark.slow
def test_a_bomb_is_refused_before_it_unfolds(other: Store) -> None:
    bomb = packed({INDEX: b" " * 70_000_000})
    assert len(bomb) < 100_000
    with pytest.raises(DesignError, match="nothing of it was taken"):
        take_archive(other, io.BytesIO(bomb))


def test_a_size_that_lies_is_found_out(full: Store, other: Store) -> None:
    data = bytearray(archived(full))
    place = data.rindex(b"PK\x01\x02", 0, data.rindex(b"PK\x05\x06"))
    data[place + 24 : place + 28] = struct.pack("<I", 3)  # uncompressed size in the central directory
    with pytest.raises(DesignError, match="nothing of it was taken"):
        take_archive(other, io.BytesIO(bytes(data)))


@pytest.mark.parametrize("cut", [0, 10, 300, -1, -40])
def test_a_torn_archive_is_refused(full: Store, other: Store, cut: int) -> None:
    data = archived(full)
    with pytest.raises(DesignError, match="nothing of it was taken"):
        take_archive(other, io.BytesIO(data[:cut]))


def test_a_twice_listed_file_is_refused(full: Store, other: Store) -> None:
    file = io.BytesIO()
    kept = files_of(archived(full))
    with zipfile.ZipFile(file, "w") as archive:
        for name, data in kept.items():
            archive.writestr(name, data)
        with pytest.warns(UserWarning, match="Duplicate name"):
            archive.writestr(INDEX, kept[INDEX])
    with pytest.raises(DesignError, match="no archive"):
        take_archive(other, io.BytesIO(file.getvalue()))


def test_a_flipped_byte_anywhere_changes_nothing_or_is_refused(full: Store, other: Store) -> None:
    data, right = archived(full), shelf(full, Wanted()).cards[0]
    for place in range(0, len(data), 37):
        flipped = bytearray(data)
        flipped[place] ^= 0x20
        try:
            take_archive(other, io.BytesIO(bytes(flipped)))
        except DesignError:
            continue
        # The index carries no checksum of its own beside the ZIP file's; documents do.
        for card in shelf(other, Wanted()).cards:
            assert card.name == right.name
