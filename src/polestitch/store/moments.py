"""Moments as the store writes them: ISO 8601 text in UTC to the microsecond, so that they sort as text.

In: an aware time.  Out: text; and ``Moment``, a pydantic type that is written so.
"""

from datetime import UTC, datetime
from typing import Annotated

from pydantic import AwareDatetime, PlainSerializer


def stamp_of(at: datetime) -> str:
    """``at`` as the store writes it."""
    return at.astimezone(UTC).isoformat(timespec="microseconds")


Moment = Annotated[AwareDatetime, PlainSerializer(stamp_of, return_type=str, when_used="json")]
