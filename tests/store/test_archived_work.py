"""An archive carries drawer and pieces, adds nothing twice, and is refused whole where any of it was changed."""

import io
import json
import zipfile
from pathlib import Path
from typing import Any

import pytest

from polestitch.errors import DesignError
from polestitch.store import drawer, pieces
from polestitch.store.archive import INDEX, take_archive, write_archive
from polestitch.store.classes import add_class
from polestitch.store.costs import keep_costs
from polestitch.store.store import Store, opened
from polestitch.store.winding_log import add_wound
from tests.store.test_drawer import EVENT, begun


@pytest.fixture
def archived(store: Store, lamp: dict[str, Any]) -> io.BytesIO:
    drawer.add_thread(store, {"name": "amber", "left_mm": 1000.0, "shelf": "left"})
    piece = begun(store, lamp)
    pieces.keep_events(store, piece.id, [{**EVENT, "id": "e" * 32}])
    pieces.keep_uses(store, piece.id, {"amber": 10.0})
    pieces.add_photo(store, piece.id, b"\xff\xd8pixels")
    add_wound(store, [{"material": "thick yarn", "before_mm": 180.0, "after_mm": 215.0, "grams": 31.0, "note": None}])
    add_class(store, {"title": "Winter evenings"})
    keep_costs(store, {"rate": "18 EUR"})
    file = io.BytesIO()
    write_archive(store, file)
    file.seek(0)
    return file


def test_all_of_it_comes_back_once(archived: io.BytesIO, store: Store, tmp_path: Path) -> None:
    other = opened(tmp_path / "other")
    for _ in range(2):
        archived.seek(0)
        take_archive(other, archived)
    assert [(t.words, t.left_mm) for t in drawer.threads(other)] == [(t.words, 990.0) for t in drawer.threads(store)]
    (mine,), (theirs,) = pieces.pieces(store), pieces.pieces(other)
    assert (theirs.name, theirs.told, theirs.document) == (mine.name, mine.told, mine.document)
    assert [e["id"] for e in pieces.events(other, theirs.id)[0]] == ["e" * 32]
    assert pieces.part(other, theirs.id, "sizes") == b"z"
    other.close()


def test_what_was_taken_in_is_written_out_the_same(archived: io.BytesIO, tmp_path: Path) -> None:
    other = opened(tmp_path / "other")
    take_archive(other, archived)
    again = io.BytesIO()
    write_archive(other, again)
    other.close()
    with zipfile.ZipFile(archived) as one, zipfile.ZipFile(again) as two:
        for name in set(one.namelist()) - {INDEX}:  # the index lists checksums of bytes; keys may change places
            assert json.loads(two.read(name)) == json.loads(one.read(name)), name


def test_a_changed_piece_is_refused_and_nothing_is_taken(archived: io.BytesIO, tmp_path: Path) -> None:
    changed = io.BytesIO()
    with zipfile.ZipFile(archived) as old, zipfile.ZipFile(changed, "w") as new:
        for name in old.namelist():
            data = old.read(name)
            new.writestr(name, data.replace(b'"Mine"', b'"Hers"') if name.startswith("pieces/") else data)
    other = opened(tmp_path / "other")
    with pytest.raises(DesignError, match="changed on its way"):
        take_archive(other, changed)
    assert not drawer.threads(other)
    other.close()


def test_no_name_of_the_index_becomes_a_path(archived: io.BytesIO, store: Store) -> None:
    changed = io.BytesIO()
    with zipfile.ZipFile(archived) as old, zipfile.ZipFile(changed, "w") as new:
        index = json.loads(old.read("archive.json"))
        index["work"] = {"../drawer.json": index["work"]["drawer.json"]}
        new.writestr("archive.json", json.dumps(index))
    with pytest.raises(DesignError, match="archive"):
        take_archive(store, changed)
