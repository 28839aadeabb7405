"""The rows of a layer as a maker writes them: ``"2 navy, 3 x (1 white, 1 gold)"``, ``"until obi: 2 navy"``.

In: text.  Out: a ``RowList``, one thread name a row.
Grammar: ``[until TARGET:] item, item …`` where an item is ``COUNT thread`` or ``COUNT x (item, item …)``.
"""

import re
from dataclasses import dataclass

from polestitch.document.lengths import Length

MOST_ROWS = 2000
DEEPEST = 8  # groups within groups; nobody stitches more, and it keeps the reader's own stack short
NAME_ENDS = ",:()"  # a thread's name cannot contain these
HELP = 'write rows like "2 navy, 3 white", "3 x (2 navy, 1 white)" or "until 5 mm from obi: 1 navy"'
_UNTIL = re.compile(r"\s*until\b\s*(?P<target>[^:]*):(?P<rest>.*)", re.IGNORECASE | re.DOTALL)
_GROUP = re.compile(r"\s*(?P<count>[0-9]+)\s*(?:x|×|times)\s*\(", re.IGNORECASE)
_PLAIN = re.compile(rf"\s*(?P<count>[0-9]+)\s+(?P<thread>[^{re.escape(NAME_ENDS)}]*[^{re.escape(NAME_ENDS)}\s])\s*")
_CLOSE, _COMMA = re.compile(r"\s*\)\s*"), re.compile(r"\s*,")


@dataclass(frozen=True)
class RowList:
    """Thread names in stitching order, one a row; with ``until`` they are one turn of a repeating list."""

    threads: tuple[str, ...]
    until: str | None  # "neighbours", "obi", "edge", a length with its origin, or an address


def row_list(text: str) -> RowList:
    """Read ``text``; ``ValueError`` with a remedy where it is no row list, is empty, or is past ``MOST_ROWS``."""
    until = _UNTIL.fullmatch(text)
    if until is None and text.lower().split()[:1] == ["until"]:
        raise ValueError(f"a colon is missing after what the rows run until; {HELP}")
    target = None if until is None else _target(until["target"])
    return RowList(_Reader(text if until is None else until["rest"]).whole(), target)


def _target(text: str) -> str:
    target = " ".join(text.split())
    if not target:
        raise ValueError(f'"until" must say until what; {HELP}')
    try:
        length = Length(target)
    except ValueError:
        return target  # an address; only the marking knows whether it is there
    if length.origin is None:
        raise ValueError(f'"until {target}" must say where it counts from, such as "until {target} from obi"')
    return target


class _Reader:
    """Recursive descent over one row list; ``at`` is the next character to read."""

    def __init__(self, text: str) -> None:
        self.text, self.at = text, 0

    def whole(self) -> tuple[str, ...]:
        threads = self._items(depth=0)
        if self.at < len(self.text):
            raise ValueError(f"cannot read {self._here()}; {HELP}")
        return threads

    def _items(self, depth: int) -> tuple[str, ...]:
        threads = self._item(depth)
        while self._take(_COMMA):
            threads += self._item(depth)
            _refuse_too_many(len(threads))
        return threads

    def _item(self, depth: int) -> tuple[str, ...]:
        group = self._take(_GROUP)
        if group:
            return self._repeated(_count(group["count"]), depth + 1)
        plain = self._take(_PLAIN)
        if plain is None:
            raise ValueError(f"expected a number of rows and a thread at {self._here()}; {HELP}")
        return (" ".join(plain["thread"].split()),) * _count(plain["count"])

    def _repeated(self, count: int, depth: int) -> tuple[str, ...]:
        if depth > DEEPEST:
            raise ValueError(f"brackets lie more than {DEEPEST} deep; write the rows out in fewer brackets")
        threads = self._items(depth)
        if not self._take(_CLOSE):
            raise ValueError(f"a closing bracket is missing at {self._here()}; {HELP}")
        _refuse_too_many(count * len(threads))
        return threads * count

    def _take(self, pattern: re.Pattern[str]) -> re.Match[str] | None:
        match = pattern.match(self.text, self.at)
        if match:
            self.at = match.end()
        return match

    def _here(self) -> str:
        rest = self.text[self.at :].strip()
        return f'"{rest[:30]}"' if rest else "the end"


def _count(digits: str) -> int:
    # A number this long is refused by its length: Python itself refuses to read thousands of digits.
    count = int(digits) if len(digits) <= 9 else 10**9
    if count == 0:
        raise ValueError("0 rows leave nothing to stitch; ask for at least 1, or take the thread out of the list")
    _refuse_too_many(count)
    return count


def _refuse_too_many(count: int) -> None:
    if count > MOST_ROWS:
        raise ValueError(f'asks for over {MOST_ROWS} rows; write fewer, or let the ball decide: "until obi: 2 navy"')
