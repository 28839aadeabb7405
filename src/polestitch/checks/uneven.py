"""Like places that came out unlike: one row list, and more rows here than there.

In: a build.  Out: findings.
"""

from collections import Counter
from collections.abc import Iterator, Sequence

from polestitch.checks.finding import Finding, Made, fewer_rows, rows_said
from polestitch.document.said import in_short
from polestitch.stitching.motifs import Motif
from polestitch.stitching.site import alike


def uneven_rows(made: Made) -> Iterator[Finding]:
    """Layers whose counts at like places differ by more than one row."""
    for layer, entry in enumerate(made.design.layers):
        for like in _like([motif for motif in made.motifs if motif.layer == layer]):
            counts = [motif.rows[-1].plan + 1 for motif in like]
            usual = Counter(counts).most_common(1)[0][0]
            odd = [motif for motif, count in zip(like, counts) if abs(count - usual) > 1]
            if not odd:
                continue
            worst = max(odd, key=lambda motif: abs(motif.rows[-1].plan + 1 - usual))
            places = in_short([motif.place for motif in odd])
            sentence = (
                f'"{entry.name}" has {rows_said(usual)} at most of its like places and '
                f"{rows_said(worst.rows[-1].plan + 1)} at {worst.place}: what it runs until lies at another distance "
                f"there ({places} {'is' if len(odd) == 1 else 'are'} unlike the rest). "
                f'Write the count itself, or "until" with a length that is the same everywhere.'
            )
            yield Finding("uneven rows", "care", sentence, layer, usual, worst.place, fewer_rows(made, layer, usual))


def _like(motifs: Sequence[Motif]) -> list[list[Motif]]:
    """Motifs by kind of place: as many guidelines, and equally long."""
    kinds: list[list[Motif]] = []
    for motif in motifs:
        kind = next((one for one in kinds if alike(one[0].site, motif.site)), None)
        if kind is None:
            kinds.append([motif])
        else:
            kind.append(motif)
    return kinds
