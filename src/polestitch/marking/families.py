"""Multi-face divisions by name: "C10/42", "C8/14", "42", "C10/492(7,0)", "C10/72(1,2) perfect equalised".

In: the maker's word.  Out: a ``Family`` member: base, (h, k), and how it is made.
Counts: N = 10T + 2 on C10, 4T + 2 on C8 and C4, 2T + 2 on C6, with T = h^2 + hk + k^2
(Goldberg 1937, Caspar and Klug 1962; from memory).  One count may have two forms, such as
492 = (5,3) and (7,0), and where neither h = k nor k = 0 each form has a mirror twin (k,h).
"""

import re
from dataclasses import dataclass

from polestitch.errors import DesignError

WHERE = "marking.division"
MOST_FACES = 1002  # the largest the makers' tables give by name before a ball is nothing but lines
PER_T = {10: 10, 8: 4, 6: 2, 4: 4}  # faces gained by one of T
SIDES = {10: 5, 8: 4, 6: 3, 4: 4}  # sides of the faces at the base's own centres
_WORD = re.compile(
    r"(?:C(?P<base>10|8|6|4)/)?(?P<count>\d{1,7})(?:\((?P<h>\d{1,3}),(?P<k>\d{1,3})\))?"
    r"(?P<made>IMPERFECT|PERFECT)?(?P<even>EQUALI[SZ]ED)?",
    re.ASCII,
)


@dataclass(frozen=True)
class Family:
    """One multi-face division: ``h`` steps along a row of faces and, after a turn to the left, ``k`` more."""

    base: int  # 10, 8, 6 or 4: the combination whose centres carry the faces with fewest sides
    h: int
    k: int
    perfect: bool = False  # every face with its short legs too
    equalised: bool = False  # sides as equal as they can be, rather than equal parts of an arc

    @property
    def t(self) -> int:
        """The triangulation number T."""
        return self.h * self.h + self.h * self.k + self.k * self.k

    @property
    def faces(self) -> int:
        """How many faces there are, and how makers call it."""
        return PER_T[self.base] * self.t + 2

    @property
    def chiral(self) -> bool:
        """Whether its mirror image is another division."""
        return self.k not in {0, self.h}

    @property
    def name(self) -> str:
        """The shortest word that means this division and no other."""
        told = self.chiral or len(forms(self.base, self.faces)) > 1
        form = f"({self.h},{self.k})" if told else ""
        made = " perfect" * self.perfect + " equalised" * self.equalised
        return f"C{self.base}/{self.faces}{form}{made}"


def forms(base: int, faces: int) -> tuple[tuple[int, int], ...]:
    """Every (h, k) with h >= k that gives ``faces`` on ``base``, mirror twins left out; the longest h first."""
    t, rest = divmod(faces - 2, PER_T[base])
    if rest or t < 1:
        return ()
    found = [(h, k) for h in range(1, int(t**0.5) + 1) for k in range(h + 1) if h * h + h * k + k * k == t]
    return tuple(sorted(found, reverse=True))


def family(word: str) -> Family | None:
    """The division that ``word`` (capitals, no spaces) names; ``None`` where it is no multi-face word at all.

    ``DesignError`` for a count that does not exist, or that has two forms and does not say which.
    """
    match = _WORD.fullmatch(word)
    if match is None:
        return None
    base, faces = int(match["base"] or 10), int(match["count"])
    perfect, even = match["made"] == "PERFECT", match["even"] is not None
    if match["h"] is not None:
        found = Family(base, int(match["h"]), int(match["k"]), perfect, even)
        return _agreed(_upright(found), faces)
    known = forms(base, faces)
    if not known or faces > MOST_FACES:
        raise DesignError(WHERE, _no_count(base, faces))
    if len(known) > 1:
        ways = " or ".join(f'"C{base}/{faces}({h},{k})"' for h, k in known)
        raise DesignError(WHERE, f"{faces} faces can be had in two ways; write {ways}")
    return Family(base, *known[0], perfect, even)


def _upright(found: Family) -> Family:
    """(0, h) is (h, 0) seen from the next row."""
    return Family(found.base, found.k, 0, found.perfect, found.equalised) if found.h == 0 else found


def _agreed(found: Family, faces: int) -> Family:
    """The form asked for, where its count is the one asked for."""
    if found.t < 1 or found.faces > MOST_FACES:
        raise DesignError(WHERE, _no_count(found.base, faces))
    if found.faces != faces:
        form = f"({found.h},{found.k})"
        raise DesignError(WHERE, f'{form} gives {found.faces} faces on C{found.base}; write "{found.name}"')
    return found


def counts(base: int, most: int = MOST_FACES) -> tuple[int, ...]:
    """Every count there is on ``base``, up to ``most`` faces."""
    reach = int((most / PER_T[base]) ** 0.5) + 1
    sizes = {h * h + h * k + k * k for h in range(1, reach + 1) for k in range(h + 1)}
    return tuple(n for n in sorted(PER_T[base] * t + 2 for t in sizes) if n <= most)


def _no_count(base: int, faces: int) -> str:
    known = counts(base)
    if faces > MOST_FACES:
        return f"{faces} faces are too many to mark; the most on C{base} is {known[-1]}"
    near = sorted(sorted(known, key=lambda n: abs(n - faces))[:2])
    return f"no even net on C{base} has {faces} faces; write {' or '.join(f'C{base}/{n}' for n in near)}"
