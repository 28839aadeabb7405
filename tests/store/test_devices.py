"""A token is kept as its checksum, ends by itself, and can be taken back."""

from datetime import timedelta

import pytest

from polestitch.store.designs import MissingError
from polestitch.store.devices import KEPT, devices, forget_device, known_device, pair_device
from polestitch.store.store import Store
from tests.store.conftest import Clock


def test_a_token_is_known_until_it_is_taken_back(store: Store) -> None:
    device, token = pair_device(store, "  Side   table ")
    assert device.name == "Side table"
    assert known_device(store, token) == device
    assert known_device(store, token + "x") is None
    assert token.encode() not in store.database.read_bytes() + store.database.with_name("studio.db-wal").read_bytes()
    forget_device(store, device.id)
    assert known_device(store, token) is None
    with pytest.raises(MissingError):
        forget_device(store, device.id)


def test_a_token_ends_by_itself(store: Store, clock: Clock) -> None:
    _, token = pair_device(store, "")
    clock.time += KEPT - timedelta(minutes=1)
    assert known_device(store, token) is not None
    clock.time += timedelta(minutes=2)
    assert known_device(store, token) is None
    assert devices(store) == ()
