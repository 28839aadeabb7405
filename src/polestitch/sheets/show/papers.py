"""The papers of a show by their kind.

In: a checked ``Exhibition`` and pictures (PNG or JPEG bytes) by inventory number.  Out: a file-name ending, a media
type and bytes.
"""

from collections.abc import Callable, Iterable, Mapping

from polestitch.errors import DesignError
from polestitch.sheets.sheet import paper_named
from polestitch.sheets.show import (
    care_notes,
    case_plan,
    catalogue,
    checklist,
    insurance_list,
    labels,
    large_print,
    loan_form,
    price_list,
    reading_text,
)
from polestitch.showing.exhibition import Exhibition

Made = tuple[str, str, bytes]
PDF, TEXT = "application/pdf", "text/plain; charset=utf-8"
MAKERS: dict[str, Callable[[Exhibition, Mapping[str, bytes], str], bytes]] = {
    "catalogue": catalogue.made,
    "labels": labels.made,
    "large-print": large_print.made,
    "reading-text": reading_text.made,
    "case-plan": case_plan.made,
    "checklist": checklist.made,
    "loan-form": loan_form.made,
    "price-list": price_list.made,
    "insurance-list": insurance_list.made,
    "care-notes": care_notes.made,
}
KINDS = tuple(MAKERS)
PICTURED = frozenset(("catalogue", "checklist"))


def paper(kind: str, exhibition: Exhibition, pictures: Mapping[str, bytes], size: str = "a4") -> Made:
    """One paper as (ending such as "-labels.pdf", media type, bytes); ``size`` is "a4" or "letter".

    ``DesignError`` where the kind or size is none, or where nothing is shown yet.
    """
    kinds_named([kind])
    paper_named(size)
    if not exhibition.shown:
        raise DesignError("shown", "no piece is in the show yet; add one")
    data = MAKERS[kind](exhibition, pictures, size)
    return (f"-{kind}.txt", TEXT, data) if kind == "reading-text" else (f"-{kind}.pdf", PDF, data)


def kinds_named(kinds: Iterable[str]) -> tuple[str, ...]:
    """``kinds`` themselves, each once; ``DesignError`` names the ones there are."""
    for kind in kinds:
        if kind not in MAKERS:
            raise DesignError("--kind", f"{kind[:20]!r} is no paper of a show; choose {', '.join(KINDS)}")
    return tuple(dict.fromkeys(kinds))


def pictured(kinds: Iterable[str]) -> bool:
    """Whether one of ``kinds`` shows pictures."""
    return not PICTURED.isdisjoint(kinds)
