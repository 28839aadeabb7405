"""A design as JSON text and back: the one door between a file and the records.

In: text or bytes.  Out: a ``Design``, or a ``DesignError`` with the place and the remedy; and text again.
"""

import json
from typing import Any

from pydantic import ValidationError

from polestitch.document.crosschecks import checked
from polestitch.document.design import Design, Record
from polestitch.document.jsontext import json_object
from polestitch.document.lengths import Length
from polestitch.document.sentences import design_error
from polestitch.document.upgrades import upgraded


def read(text: str | bytes, source: str = "design") -> Design:
    """The design that ``text`` holds, brought up to date; ``source`` names it in messages about the file itself."""
    raw = upgraded(json_object(text, source))
    try:
        # Through JSON once more: only there does pydantic take a list for a tuple and still no "6" for 6.
        design = Design.model_validate_json(json.dumps(raw), strict=True)
    except ValidationError as error:
        raise design_error(error, Design) from None
    return checked(design)


def written(design: Design) -> str:
    """JSON text that reads back as the same design; the same design always gives the same text.

    Defaults are written out, so that the design stays as it is when a later version changes them.
    """
    return json.dumps(_plain(design), indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def _plain(value: Any) -> Any:
    """Records as dicts without their empty fields, texts as texts; ``params`` come out as they are."""
    if isinstance(value, Record):
        fields = ((name, getattr(value, name)) for name in type(value).model_fields)
        return {name: _plain(part) for name, part in fields if part is not None}
    if isinstance(value, tuple):
        return [_plain(part) for part in value]
    if isinstance(value, dict):
        return {name: _plain(part) for name, part in value.items()}
    return str(value) if isinstance(value, Length) else value
