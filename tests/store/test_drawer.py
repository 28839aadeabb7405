"""Threads: what is left is what came and went, less what pieces took, however often they tell it."""

from typing import Any

import pytest

from polestitch.store import drawer, pieces
from polestitch.store.designs import MissingError, document_text
from polestitch.store.store import Store

EVENT = {"device": "a", "seq": 1, "clock": 1, "at": "2026-12-06T10:00:00Z", "kind": "next", "step": 0}
TOLD: dict[str, Any] = {
    "steps": 1,
    "around_mm": 240.0,
    "layers": [],
    "threads": [{"name": "Amber", "colour": "#e0952f", "metallic": False, "total_mm": 900.0}],
    "span": [0.7, 1.4],
    "hand": "right",
}


def begun(store: Store, lamp: dict[str, Any]) -> pieces.Piece:
    plan = pieces.Planned(document_text(lamp), 1, TOLD, {"scene": b"s", "sizes": b"z", "steps 0": b"p"})
    return pieces.add_piece(store, "Mine", "d" * 32, plan)


def left(store: Store) -> list[float]:
    return [thread.left_mm for thread in drawer.threads(store)]


def test_her_word_stands_and_pieces_take_from_it(store: Store, lamp: dict[str, Any]) -> None:
    thread = drawer.add_thread(store, {"name": "amber", "left_mm": 1000.0})
    piece = begun(store, lamp)
    for _ in range(3):  # told again and again: counted once
        pieces.keep_uses(store, piece.id, {"Amber": 150.0})
    assert left(store) == [850.0]
    drawer.change_thread(store, thread.id, {"left_mm": 800.0})
    assert left(store) == [800.0]
    drawer.move_thread(store, thread.id, 25.0, "found another end")
    pieces.keep_uses(store, piece.id, {"Amber": 100.0})  # she unpicked a little
    assert left(store) == [875.0]


def test_of_two_threads_of_one_name_only_one_is_stitched_from(store: Store, lamp: dict[str, Any]) -> None:
    for _ in range(2):
        drawer.add_thread(store, {"name": "amber", "left_mm": 100.0})
    pieces.keep_uses(store, begun(store, lamp).id, {"Amber": 30.0})
    assert sorted(left(store)) == [70.0, 100.0]


def test_an_event_is_kept_once(store: Store, lamp: dict[str, Any]) -> None:
    piece = begun(store, lamp)
    for _ in range(2):
        assert len(pieces.keep_events(store, piece.id, [{**EVENT, "id": "e" * 32}])) == 1
    told, last = pieces.events(store, piece.id)
    assert told == [{**EVENT, "id": "e" * 32}]
    assert pieces.events(store, piece.id, last) == ([], last)


def test_another_piece_keeps_no_photo_of_this_one(store: Store, lamp: dict[str, Any]) -> None:
    one, two = begun(store, lamp), begun(store, lamp)
    name = pieces.add_photo(store, one.id, b"pixels")
    assert pieces.photo(store, one.id, name) == b"pixels"
    with pytest.raises(MissingError):
        pieces.photo(store, two.id, name)
