"""Speed of the picture: document of ball A to a PNG of 1000 by 1000, from cold processes.

Run ``python -m benchmarks.picture``.  Ratios against a bare ``import numpy`` process of the same run.
"""

import sys

from benchmarks.balls import ball_a, ball_a20k
from benchmarks.building import NUMPY, cold, in_process
from polestitch.document.codec import written
from polestitch.picture.bezier import paths
from polestitch.picture.render import image
from polestitch.picture.subject import facing, subject
from polestitch.picture.svg import svg
from polestitch.pipeline import build

PICTURE = """import sys
from polestitch.document.codec import read
from polestitch.picture.render import png
from polestitch.pipeline import build
png(build(read(sys.stdin.read())), "N", 1000)"""


def rows() -> list[tuple[str, float, float]]:
    """(goal, ratio, aim); a line beginning with '<=' is met when the ratio is at most the aim."""
    return [
        ("<= picture 1000 x 1000 of A, cold process : bare import numpy process", _picture() / cold(NUMPY), 8.0),
    ]


def _picture() -> float:
    return cold(PICTURE, written(ball_a()))


def main() -> None:
    """Print the goals, and in milliseconds what they are made of."""
    for goal, ratio, aim in rows():
        print(f"{ratio:.2f} (aim {aim:g}) {goal}")
    for name, design in (("A", ball_a()), ("A20k", ball_a20k())):
        made = build(design)
        shown, view = subject(made), facing(made, "N")
        works = {
            "image 1000": lambda shown=shown, view=view: image(shown, view, 1000),
            "curves": lambda made=made, view=view: paths(made.laid, view),
            "svg": lambda made=made: svg(made, "N"),
        }
        figures = ", ".join(f"{word} {1e3 * in_process(work, 5):.0f} ms" for word, work in works.items())
        print(f"{name}: {len(made.laid.normal)} arcs; {figures}", file=sys.stdout)


if __name__ == "__main__":
    main()
