"""The traditional repertoire as published: each family's division, techniques and pages, and where to find it here.

In: nothing.  Out: ``REPERTOIRE``.  Each row is taken from the pages it names, read by hand; a row without a page is
common practice and says so.
"""

from typing import NamedTuple

KAI, SIXTEEN = "http://www.temarikai.com/", ("S8", "S10", "S12", "S16", "S20", "S32")


class Published(NamedTuple):
    """One family as its pages tell it."""

    called: str
    families: tuple[str, ...]  # our names; each of them is one
    divisions: tuple[str, ...]  # at least one of these
    techniques: tuple[str, ...]  # all of these
    sources: tuple[str, ...] = ()  # at least one of these; none: common practice


FLOWERS_TO_SQUARES = (
    Published(
        "kiku",
        ("chrysanthemum",),
        SIXTEEN,
        ("uwagake", "band"),
        ("http://www.japanesetemari.com/kiku.chrysanthemum.stitching.temari.html",),
    ),
)

REPERTOIRE = FLOWERS_TO_SQUARES
