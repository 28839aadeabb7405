"""Records of pieces and shows: kept, never written over, never lost; in archives, on full disks, after an update."""

import io
import json
import shutil
import sqlite3
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from alembic import command
from sqlalchemy.exc import OperationalError

from polestitch.errors import DesignError
from polestitch.store import database
from polestitch.store.archive import take_archive, write_archive
from polestitch.store.designs import MissingError, add_design, change_card, document_text
from polestitch.store.entries import (
    MOST_VERSIONS,
    Entry,
    Keep,
    NewerError,
    add_entry,
    entries,
    entry,
    entry_text,
    entry_versions,
    keep_entry,
    put_entry_away,
)
from polestitch.store.entry_photos import (
    add_entry_photo,
    chair_photos,
    entry_photo,
    entry_photo_names,
    take_chair_photos,
)
from polestitch.store.pieces import add_photo
from polestitch.store.shelf import clear_away
from polestitch.store.store import Store, opened
from tests.store.conftest import Clock
from tests.store.test_database import allow_pages
from tests.store.test_drawer import begun

LAMP = {"number": "HL-09", "title": "Lamp over the slip"}
SHOW = {"title": "Harbour Lights", "shown": [{"number": "HL-09"}]}


@pytest.fixture
def piece(store: Store) -> Entry:
    return add_entry(store, "piece", Keep(LAMP, tab="one"))


def kept(store: Store, found: Entry, **words: Any) -> Entry:
    return keep_entry(store, "piece", found.id, Keep({**found.body, **words}, found.version, "one"))


def test_a_record_is_found_again(store: Store, piece: Entry) -> None:
    assert entries(store, "piece") == (piece,)
    assert entries(store, "show") == ()
    assert entry(store, "piece", piece.id).body == LAMP
    with pytest.raises(MissingError):
        entry(store, "show", piece.id)


def test_another_window_does_not_write_over_a_newer_change(store: Store, piece: Entry) -> None:
    kept(store, piece, care="dust it")
    with pytest.raises(NewerError, match="another window"):
        keep_entry(store, "piece", piece.id, Keep({**LAMP, "care": "wash it"}, piece.version, "two"))
    assert entry(store, "piece", piece.id).body["care"] == "dust it"


def test_a_lost_answer_is_no_other_window(store: Store, piece: Entry) -> None:
    kept(store, piece, care="dust")
    assert kept(store, piece, care="dust it").body["care"] == "dust it"


def test_what_it_was_can_be_read_again(store: Store, piece: Entry, clock: Clock) -> None:
    now = piece
    for n in range(4):
        clock.time += timedelta(minutes=5)
        now = kept(store, now, care=f"{n}")
        now = kept(store, now, care=f"{n}, then more")
    versions = entry_versions(store, "piece", piece.id)
    assert [version.body.get("care") for version in versions] == [*(f"{n}, then more" for n in (3, 2, 1, 0)), None]
    assert versions[0].number == now.version


@pytest.mark.slow
def test_only_the_oldest_versions_go(store: Store, piece: Entry, clock: Clock) -> None:
    now = piece
    for n in range(MOST_VERSIONS + 3):
        clock.time += timedelta(minutes=5)
        now = kept(store, now, care=f"{n}")
    versions = entry_versions(store, "piece", piece.id)
    assert len(versions) == MOST_VERSIONS
    assert versions[0].body["care"] == f"{MOST_VERSIONS + 2}"


def test_the_same_again_is_no_change(store: Store, piece: Entry) -> None:
    assert kept(store, piece) == piece


def test_no_two_pieces_have_one_number(store: Store, piece: Entry) -> None:
    with pytest.raises(DesignError, match=r"HL-09 is the number of \"Lamp over the slip\" already"):
        add_entry(store, "piece", Keep(LAMP))
    put_entry_away(store, "piece", piece.id, True)
    other = add_entry(store, "piece", Keep({**LAMP, "title": "Beacon"}))
    with pytest.raises(DesignError, match="already"):
        put_entry_away(store, "piece", piece.id, False)
    kept(store, other, number="HL-10")
    assert not put_entry_away(store, "piece", piece.id, False).away
    assert [each.name for each in entries(store, "piece")] == ["HL-09", "HL-10"]


def test_a_show_follows_a_piece_to_its_new_number(store: Store, piece: Entry) -> None:
    show = add_entry(store, "show", Keep(SHOW))
    kept(store, piece, number="HL-90")
    assert entry(store, "show", show.id).body["shown"] == [{"number": "HL-90"}]


def test_put_away_is_not_gone(store: Store, piece: Entry, clock: Clock) -> None:
    put_entry_away(store, "piece", piece.id, True)
    clock.time += timedelta(days=400)
    clear_away(store)
    assert entries(store, "piece") == ()
    assert [each.id for each in entries(store, "piece", away=True)] == [piece.id]


def test_a_piece_keeps_the_document_it_was_stitched_from(store: Store, lamp: dict[str, Any], clock: Clock) -> None:
    card = add_design(store, lamp)
    made = add_entry(store, "piece", Keep({**LAMP, "design": card.id}, text=document_text(lamp)))
    change_card(store, card.id, None, True)
    clock.time += timedelta(days=31)
    assert clear_away(store) == 1
    assert json.loads(entry_text(store, made) or "") == lamp


def test_photos_stay_whatever_the_record_says(store: Store, piece: Entry) -> None:
    name = add_entry_photo(store, piece.id, b"\xff\xd8one")
    assert entry_photo(store, piece.id, name) == b"\xff\xd8one"
    kept(store, piece, photos=[])
    assert entry_photo_names(store, piece.id) == (name,)
    with pytest.raises(MissingError):
        entry_photo(store, piece.id, "0" * 32)


def test_photos_of_the_chair_are_taken_over_once(store: Store, piece: Entry, lamp: dict[str, Any]) -> None:
    stitched = begun(store, lamp)
    add_photo(store, stitched.id, b"\xff\xd8row 3")
    assert len(chair_photos(store, piece.id, stitched.id)) == 1
    (name,) = take_chair_photos(store, piece.id, stitched.id)
    assert entry_photo(store, piece.id, name) == b"\xff\xd8row 3"
    assert take_chair_photos(store, piece.id, stitched.id) == ()


def add_many_photos(store: Store, piece: Entry) -> None:
    for _ in range(200):
        add_entry_photo(store, piece.id, b"\xff\xd8" * 4000)


def test_a_full_disk_loses_nothing(store: Store, piece: Entry) -> None:
    allow_pages(store, 70)
    with pytest.raises(OperationalError, match="full"):
        add_many_photos(store, piece)
    names = entry_photo_names(store, piece.id)
    assert all(len(entry_photo(store, piece.id, name)) == 8000 for name in names)
    assert entry(store, "piece", piece.id).body == LAMP
    allow_pages(store, 1_000_000)
    assert kept(store, piece, care="room again").body["care"] == "room again"


@pytest.fixture
def archived(store: Store, piece: Entry, lamp: dict[str, Any]) -> io.BytesIO:
    name = add_entry_photo(store, piece.id, b"\xff\xd8pixels")
    keep_entry(store, "piece", piece.id, Keep({**LAMP, "photos": [{"file": name}]}, 1, "two", document_text(lamp)))
    add_entry(store, "show", Keep(SHOW))
    file = io.BytesIO()
    write_archive(store, file)
    return file


def taken(store: Store, file: io.BytesIO) -> None:
    file.seek(0)
    take_archive(store, file)


def test_an_archive_carries_all_of_it_once(archived: io.BytesIO, store: Store, tmp_path: Path) -> None:
    other = opened(tmp_path / "other")
    for _ in range(2):
        taken(other, archived)
    for kind in ("piece", "show"):
        assert entries(other, kind) == entries(store, kind)
    (mine,) = entries(store, "piece")
    assert entry_versions(other, "piece", mine.id) == entry_versions(store, "piece", mine.id)
    assert entry_photo(other, mine.id, mine.body["photos"][0]["file"]) == b"\xff\xd8pixels"
    assert json.loads(entry_text(other, mine) or "")["name"] == "Lamp"
    other.close()


def test_what_went_on_here_and_there_is_kept_beside(archived: io.BytesIO, store: Store, tmp_path: Path) -> None:
    other = opened(tmp_path / "other")
    taken(other, archived)
    (there,) = entries(other, "piece")
    kept(other, there, care="theirs")
    file = io.BytesIO()
    write_archive(other, file)
    for _ in range(2):
        taken(store, file)
    other.close()
    assert [each.body.get("care") for each in entries(store, "piece")] == [None]
    (beside,) = entries(store, "piece", away=True)
    assert beside.body["care"] == "theirs"
    assert entry_photo(store, beside.id, beside.body["photos"][0]["file"]) == b"\xff\xd8pixels"


def test_a_record_that_cannot_be_read_is_refused_whole(archived: io.BytesIO, store: Store, tmp_path: Path) -> None:
    with store.writing() as session:
        session.connection().exec_driver_sql("UPDATE entry_versions SET body = '{\"number\": 9}'")
    file = io.BytesIO()
    write_archive(store, file)
    other = opened(tmp_path / "other")
    with pytest.raises(DesignError, match="cannot read"):
        taken(other, file)
    assert entries(other, "piece") == ()
    other.close()


def test_a_studio_from_before_pieces_and_shows_is_brought_up_to_date(
    tmp_path: Path, lamp: dict[str, Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    def to_second_shape(connection: Any) -> None:
        config = database._config()
        config.attributes["connection"] = connection
        command.upgrade(config, "0002")

    monkeypatch.setattr(database, "bring_up_to_date", to_second_shape)
    database.make_database(tmp_path / "studio.db")
    monkeypatch.undo()
    raw = sqlite3.connect(tmp_path / "studio.db")
    raw.execute("INSERT INTO documents VALUES ('a', ?)", (json.dumps(lamp),))
    raw.execute(
        "INSERT INTO designs VALUES ('d', 1, 'a', '2026-11-30', NULL, 'Lamp', 'lamp', 'S8', 240, NULL, NULL,"
        " NULL, NULL, NULL)"
    )
    raw.commit()
    raw.close()
    shutil.copy(tmp_path / "studio.db", tmp_path / "before.db")
    store = opened(tmp_path)
    add_entry(store, "piece", Keep(LAMP))
    with store.reading() as session:
        rows = session.connection().exec_driver_sql("SELECT name, division FROM designs").all()
        assert [tuple(row) for row in rows] == [("Lamp", "S8")]
    assert [path.name.endswith("-before-update.db") for path in store.backups.iterdir()] == [True]
    store.close()
