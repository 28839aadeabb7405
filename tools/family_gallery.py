"""The gallery of families: pages with a picture of each, and a manifest that tells which pictures are stale.

In: the families.  Out: ``docs/gallery/``.  ``make gallery`` paints what has changed; ``--all`` paints everything,
``--text`` writes the pages alone.
"""

import hashlib
import io
import json
import sys
from html import escape
from pathlib import Path

from PIL import Image

from polestitch.cli.printing import progress
from polestitch.document.codec import read
from polestitch.families.family import KINDS, Family, families, starter
from polestitch.picture.render import image
from polestitch.picture.subject import facing, subject
from polestitch.pipeline import build
from tools.gallery_style import HEAD

GALLERY = Path(__file__).parents[1] / "docs" / "gallery"
PICTURES = GALLERY / "pictures"
MANIFEST = GALLERY / "manifest.json"
PAPER = "#faf7f1"
SIDE, MOST_BYTES = 480, 40_000
MADE = "<!-- made by make gallery; edit the families instead -->"
INTRO = (
    "The traditional repertoire, each ball drawn by Polestitch from the thread as it would lie. Every one is a design "
    "you can begin from, planned for your own ball:"
)


def checksum(name: str, told: Family) -> str:
    """SHA-256 of all that a family's picture depends on in its file."""
    text = json.dumps([starter(name), told.facing], ensure_ascii=False, sort_keys=True)
    return hashlib.sha256(text.encode()).hexdigest()


def checksums() -> dict[str, str]:
    """Every family's checksum by its name."""
    return {name: checksum(name, told) for name, told in sorted(families().items())}


def manifest() -> dict[str, str]:
    """Checksums of the pictures as they were painted."""
    return dict(json.loads(MANIFEST.read_text(encoding="utf-8"))) if MANIFEST.exists() else {}


def picture(name: str, told: Family) -> bytes:
    """A JPEG file of the finished ball on paper, at the best quality that keeps it small."""
    made = build(read(json.dumps(starter(name))))
    ball = Image.fromarray(image(subject(made), facing(made, told.facing), SIDE))
    sheet = Image.new("RGB", ball.size, PAPER)
    sheet.paste(ball, mask=ball)
    for quality in range(90, 20, -4):
        file = io.BytesIO()
        sheet.save(file, "JPEG", quality=quality, optimize=True, progressive=True)
        if file.tell() <= MOST_BYTES:
            break
    return file.getvalue()


def pages() -> dict[str, str]:
    """Text of every page by its path under ``docs/gallery/``."""
    return {"index.html": _page(), "README.md": _readme()}


def _page() -> str:
    kinds = [kind for kind in KINDS if families(kind)]
    links = " ".join(f'<a href="#{_anchor(kind)}">{kind.capitalize()}</a>' for kind in kinds)
    made = [HEAD, f"<body>\n<header><h1>Families</h1>\n<p>{INTRO}</p>"]
    made += [
        "<p><code>polestitch new chrysanthemum --around 24.7cm -o mine.json</code></p>",
        f"<nav>{links}</nav></header>",
    ]
    for kind in kinds:
        cards = "\n".join(_card(name, told) for name, told in families(kind).items())
        head = f"<h2>{kind.capitalize()}<span>{len(families(kind))}</span></h2>"
        made.append(f'<section id="{_anchor(kind)}">{head}\n<div class="balls">\n{cards}\n</div></section>')
    return "\n".join([*made, "</body>", "</html>", ""])


def _anchor(kind: str) -> str:
    return kind.replace(" ", "-")


def _card(name: str, told: Family) -> str:
    term = f' <i lang="ja-Latn">{escape(told.term)}</i>' if told.term else ""
    facts = (
        f"<dt>Division</dt><dd>{', '.join(told.divisions)}</dd>"
        f"<dt>How hard</dt><dd>{_dots(told)} {told.difficulty_said}: {escape(told.why)}</dd>"
        f"<dt>Stitches</dt><dd>{', '.join(_plain(word) for word in told.techniques)}</dd>"
        f"<dt>Source</dt><dd>{_sources(told)}</dd>"
    )
    return (
        f'<article id="{name}"><img src="pictures/{name}.jpg" width="{SIDE}" height="{SIDE}" loading="lazy" '
        f'alt="{escape(told.look)}">\n<h3>{escape(told.title)}{term}</h3>\n<p>{escape(told.sentence)}</p>\n'
        f"<dl>{facts}</dl>\n<code>{name}</code></article>"
    )


def _dots(told: Family) -> str:
    return f'<span class="hard" aria-hidden="true">{"●" * told.difficulty}{"○" * (5 - told.difficulty)}</span>'


def _plain(technique: str) -> str:
    return technique.replace("_", " ")


def _sources(told: Family) -> str:
    links = [f'<a href="{escape(source)}">{_site(source)}</a>' for source in told.sources]
    return ", ".join(links) or "common practice"


def _site(address: str) -> str:
    return address.split("/")[2].removeprefix("www.").rstrip(".")


def _readme() -> str:
    made = [
        MADE,
        "",
        "# Families",
        "",
        INTRO,
        "",
        "```",
        "polestitch new chrysanthemum --around 24.7cm -o mine.json",
        "```",
        "",
    ]
    for kind in KINDS:
        made += [f"## {kind.capitalize()}", "", "| | |", "|---|---|"] if families(kind) else []
        made += [_readme_row(name, told) for name, told in families(kind).items()]
        made.append("")
    return "\n".join(made)


def _readme_row(name: str, told: Family) -> str:
    sources = ", ".join(f"[{_site(source)}]({source})" for source in told.sources) or "common practice"
    facts = f"`{name}` · {', '.join(told.divisions)} · {told.difficulty_said}: {told.why} · {sources}"
    what = f"**{told.full_title}**<br>{told.sentence}<br><sub>{facts}</sub>"
    return f'| <img src="pictures/{name}.jpg" width="240" alt="{escape(told.title)}"> | {what} |'.replace("\n", " ")


def write_pages() -> None:
    """Write the pages to their places."""
    for name, text in pages().items():
        (GALLERY / name).write_text(text, encoding="utf-8")


def paint(every: bool = False) -> None:
    """Paint the pictures of families that have changed, or all, telling each; take away those of families gone."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    wanted, painted = checksums(), {} if every else manifest()
    stale = [name for name in wanted if painted.get(name) != wanted[name] or not (PICTURES / f"{name}.jpg").exists()]
    with progress("Painting", len(stale)) as step:
        for name in stale:
            (PICTURES / f"{name}.jpg").write_bytes(picture(name, families()[name]))
            step(name)
    for path in PICTURES.glob("*.jpg"):
        if path.stem not in wanted:
            path.unlink()
    MANIFEST.write_text(json.dumps(wanted, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    if "--text" not in sys.argv:
        paint(every="--all" in sys.argv)
    write_pages()
