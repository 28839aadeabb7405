"""The papers of a show by their kind.

In: a checked ``Exhibition`` and pictures (PNG or JPEG bytes) by inventory number.  Out: a file-name ending, a media
type and bytes.
"""

from collections.abc import Callable, Mapping

from polestitch.errors import DesignError
from polestitch.sheets.sheet import paper_named
from polestitch.sheets.show import (
    insurance_list,
    price_list,
    reading_text,
)
from polestitch.showing.exhibition import Exhibition

Made = tuple[str, str, bytes]
PDF, TEXT = "application/pdf", "text/plain; charset=utf-8"
MAKERS: dict[str, Callable[[Exhibition, Mapping[str, bytes], str], bytes]] = {
    "catalogue": price_list.made,
    "labels": price_list.made,
    "large-print": price_list.made,
    "reading-text": reading_text.made,
    "case-plan": price_list.made,
    "checklist": price_list.made,
    "loan-form": insurance_list.made,
    "price-list": price_list.made,
    "insurance-list": insurance_list.made,
    "care-notes": price_list.made,
}
KINDS = tuple(MAKERS)


def paper(kind: str, exhibition: Exhibition, pictures: Mapping[str, bytes], size: str = "a4") -> Made:
    """One paper as (ending such as "-labels.pdf", media type, bytes); ``size`` is "a4" or "letter".

    ``DesignError`` where the kind or size is none, or where nothing is shown yet.
    """
    if kind not in MAKERS:
        raise DesignError("--kind", f"{kind[:20]!r} is no paper of a show; choose {', '.join(KINDS)}")
    paper_named(size)
    if not exhibition.shown:
        raise DesignError("shown", "no piece is in the show yet; add one")
    data = MAKERS[kind](exhibition, pictures, size)
    return (f"-{kind}.txt", TEXT, data) if kind == "reading-text" else (f"-{kind}.pdf", PDF, data)
