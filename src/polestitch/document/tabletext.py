"""Tables as spreadsheets save them: any separator, any mark of byte order.

In: the bytes of a CSV file.  Out: its lines as cells; ``DesignError`` names the file where it is no such text.
"""

import csv
import io

from polestitch.errors import DesignError

MOST_BYTES = 1_000_000


def table_lines(content: bytes, name: str) -> list[tuple[int, list[str]]]:
    """Lines with something in them, counted from 1, cut at the separator that the first of them has most of.

    Commas, semicolons or tabs between; UTF-8 or UTF-16, with a mark or, in UTF-8, without.
    """
    if len(content) > MOST_BYTES:
        raise DesignError(name, f"is larger than {MOST_BYTES // 1_000_000} MB; give a smaller table")
    text = _text(content, name)
    head = next((line for line in text.splitlines() if line.strip()), "")
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=max(";\t,", key=head.count), skipinitialspace=True)
    lines = ((reader.line_num, [cell.strip() for cell in cells]) for cells in reader)
    return [(number, cells) for number, cells in lines if any(cells)]


def _text(content: bytes, name: str) -> str:
    coding = "utf-16" if content[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig"
    try:
        return content.decode(coding)
    except UnicodeDecodeError:
        raise DesignError(name, "is no text in UTF-8; save the table as CSV in UTF-8") from None
