"""Paired devices: of each token only the checksum is kept, and it ends by itself.

In: an open store.  Out: ``Device`` records, and whether a token is known.
"""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from secrets import token_urlsafe
from uuid import uuid4

from sqlalchemy import select

from polestitch.store.blobs import sha_of
from polestitch.store.designs import MissingError
from polestitch.store.store import Store
from polestitch.store.tables import DeviceRow

KEPT = timedelta(days=90)
SEEN_EVERY = timedelta(minutes=10)
BYTES = 32  # 256 random bits
LONGEST_NAME = 60


@dataclass(frozen=True)
class Device:
    """One device that may come in, until when."""

    id: str
    name: str
    paired: str
    seen: str | None
    until: str


def devices(store: Store) -> tuple[Device, ...]:
    """All that may come in now, the newest first."""
    with store.reading() as session:
        query = select(DeviceRow).where(DeviceRow.until > store.stamp()).order_by(DeviceRow.paired.desc())
        return tuple(_device(row) for row in session.scalars(query))


def pair_device(store: Store, name: str) -> tuple[Device, str]:
    """A new device, and its token, which is told this once."""
    token = token_urlsafe(BYTES)
    with store.writing() as session:
        until = (store.clock() + KEPT).astimezone(UTC).isoformat(timespec="microseconds")
        named = " ".join(name.split())[:LONGEST_NAME] or "A device"
        row = DeviceRow(id=uuid4().hex, name=named, token=sha_of(token.encode()), paired=store.stamp(), until=until)
        session.add(row)
        session.flush()
        return _device(row), token


def known_device(store: Store, token: str) -> Device | None:
    """The device that has this token, if it may still come in."""
    now = store.stamp()
    with store.reading() as session:
        query = select(DeviceRow).where(DeviceRow.token == sha_of(token.encode()), DeviceRow.until > now)
        row = session.scalars(query).first()
        if row is None:
            return None
        found = _device(row)
    if found.seen is None or datetime.fromisoformat(now) - datetime.fromisoformat(found.seen) > SEEN_EVERY:
        _note_seen(store, found.id, now)
    return found


def forget_device(store: Store, id_: str) -> None:
    """It may not come in any more, from now on."""
    with store.writing() as session:
        row = session.get(DeviceRow, id_)
        if row is None:
            raise MissingError("device", "there is no such device; it was taken away already")
        session.delete(row)


def _note_seen(store: Store, id_: str, now: str) -> None:
    with store.writing() as session:
        row = session.get(DeviceRow, id_)
        if row is not None:
            row.seen = now


def _device(row: DeviceRow) -> Device:
    return Device(row.id, row.name, row.paired, row.seen, row.until)
