"""Papers of a show as one file to take away.  Runs in a worker.

In: the show's text with its records, pictures by number, which papers.  Out: ``Takeaway``: one paper, or a ZIP file.
"""

import io
import zipfile
from collections.abc import Mapping

from polestitch.document.filenames import file_stem
from polestitch.errors import DesignError
from polestitch.studio.takeaway import ZIP, Say, Takeaway

Wanted = tuple[tuple[str, ...], str]
EARLY = (1980, 1, 1, 0, 0, 0)  # the same papers give the same bytes


def show_papers(text: str, pictures: Mapping[str, bytes], wanted: Wanted, say: Say) -> Takeaway:
    """``wanted`` are kinds and the paper's size; ``DesignError`` where one of them cannot be made."""
    from polestitch.sheets.show.papers import paper
    from polestitch.showing.codec import read_show

    kinds, size = wanted
    show = read_show(text)
    name, made = file_stem(show.title), []
    for k, kind in enumerate(kinds):
        say(k / len(kinds), f"Writing: {kind.replace('-', ' ')}")
        made.append(paper(kind, show, pictures, size))
    if not made:
        raise DesignError("kinds", "say which papers you want")
    if len(made) == 1:
        ending, media, data = made[0]
        return Takeaway(f"{name}{ending}", media.partition(";")[0], data)
    say(0.98, "Putting the papers together")
    return Takeaway(f"{name}-papers.zip", ZIP, _zipped([(f"{name}{ending}", data) for ending, _, data in made]))


def _zipped(files: list[tuple[str, bytes]]) -> bytes:
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in files:
            archive.writestr(zipfile.ZipInfo(name, EARLY), data, zipfile.ZIP_DEFLATED)
    return file.getvalue()
