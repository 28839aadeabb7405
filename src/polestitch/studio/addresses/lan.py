"""Addresses of pairing: the code and its picture, letting a device in, and showing it the door."""

import io
from dataclasses import asdict
from typing import Annotated

from fastapi import Path, Response

from polestitch.errors import DesignError
from polestitch.store import devices
from polestitch.store.designs import MissingError
from polestitch.studio import messages_chair as say
from polestitch.studio.porch import COOKIE
from polestitch.studio.studio import Here

OFF = "the studio is not open to your home network; start it with: polestitch studio --lan"


def lan(here: Here) -> say.Lan:
    """Whether devices can come in, by which code, and which have."""
    known = tuple(say.Device(**asdict(each)) for each in devices.devices(here.store))
    pairing = here.pairing
    if pairing is None:
        return say.Lan(on=False, addresses=(), code=None, code_until=None, qr=None, authority=None, devices=known)
    code, until = pairing.code()
    return say.Lan(
        on=True,
        addresses=pairing.addresses,
        code=code,
        code_until=until.isoformat(timespec="seconds"),
        qr=_qr(f"{pairing.addresses[0]}#/pair?code={code}"),
        authority=pairing.fingerprint,
        devices=known,
    )


def _qr(address: str) -> str:
    """The address as a QR code, SVG."""
    import segno

    file = io.BytesIO()
    segno.make_qr(address, error="m").save(
        file, kind="svg", scale=6, border=4, xmldecl=False, dark="#000", light="#fff"
    )
    return file.getvalue().decode()


def pair(here: Here, asked: say.Pairing, answer: Response) -> say.Paired:
    """Let a device in."""
    if here.pairing is None:
        raise DesignError("code", OFF)
    here.pairing.spend(asked.code)
    device, token = devices.pair_device(here.store, asked.name)
    age = int(devices.KEPT.total_seconds())
    answer.set_cookie(COOKIE, token, max_age=age, path="/", secure=True, httponly=True, samesite="strict")
    return say.Paired(device=device.id)


def forget_device(here: Here, id: Annotated[str, Path(pattern=r"^[0-9a-f]{32}$")]) -> Response:
    """Show a device the door."""
    devices.forget_device(here.store, id)
    return Response(status_code=204)


def authority(here: Here) -> Response:
    """The home-made authority's certificate, to be trusted on a tablet by hand."""
    if here.pairing is None:
        raise MissingError("authority", OFF)
    headers = {"content-disposition": 'attachment; filename="polestitch-at-home.crt"'}
    return Response(here.pairing.authority, media_type="application/x-x509-ca-cert", headers=headers)
