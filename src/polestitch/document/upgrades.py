"""Bringing a document of an older format up to date, one small step a format.

In: the raw JSON of a document.  Out: raw JSON of the format of today.

A step is a function that takes a document of one format and returns one of the next; it stands in
``STEPS`` under the format it starts from.  Format 1 is the first, so there is none yet.
"""

from collections.abc import Callable, Mapping
from typing import Any

from polestitch.document.design import FORMAT
from polestitch.errors import DesignError

Raw = dict[str, Any]
STEPS: dict[int, Callable[[Raw], Raw]] = {}


def upgraded(raw: Raw, steps: Mapping[int, Callable[[Raw], Raw]] = STEPS, newest: int = FORMAT) -> Raw:
    """``raw`` in format ``newest``; ``DesignError`` where its format is newer, or no format at all."""
    version = _format(raw, newest)
    if version > newest:
        raise DesignError(
            "format",
            f"this design was saved in format {version}, and this Polestitch reads up to {newest}; "
            "update Polestitch to open it (the file stays as it is)",
        )
    while version < newest:
        if version not in steps:
            raise DesignError("format", f"there never was a format {version}; the format of today is {newest}")
        raw, version = {**steps[version](raw), "format": version + 1}, version + 1
    return raw


def _format(raw: Raw, newest: int) -> int:
    if "format" not in raw:
        raise DesignError("format", f'is missing; begin the design with "format": {newest}')
    version = raw["format"]
    # In Python True is an int as well; in JSON it is no number.
    if not isinstance(version, int) or isinstance(version, bool):
        raise DesignError("format", f'must be a whole number; begin the design with "format": {newest}')
    return version
