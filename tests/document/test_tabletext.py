"""Tables in the habits of many spreadsheets: the published form, and what stands beside it in daily use."""

import csv
import io

import pytest

from polestitch.document.tabletext import Fault, gathered, table, table_lines, table_text, unguarded
from polestitch.errors import DesignError

READ = [["place", "said"], ["Café", "one, two"]]
# The first is RFC 4180, section 2; the others are common practice, no source.
HABITS = {
    "commas and quotes": b'place,said\r\nCaf\xc3\xa9,"one, two"\r\n',
    "semicolons, mark of byte order": "\ufeffplace;said\nCafé;one, two\n".encode(),
    "tabs, sixteen bits with a mark": "place\tsaid\nCafé\tone, two\n".encode("utf-16"),
    "sixteen bits without a mark": "place\tsaid\nCafé\tone, two\n".encode("utf-16-be"),
    "an older spreadsheet's letters": "place;said\r\nCafé;one, two\r\n".encode("cp1252"),
    "the separator told first": b"sep=;\r\nplace;said\r\nCaf\xc3\xa9;one, two\r\n",
    "commas within quoted names of columns": b'"place";"said"\nCaf\xc3\xa9;"one, two"\n',
}


@pytest.mark.parametrize("habit", HABITS)
def test_a_table_is_read_in_the_habit_it_was_saved_in(habit: str) -> None:
    assert [cells for _, cells in table_lines(HABITS[habit], "file")] == READ


def test_lines_are_counted_as_a_spreadsheet_counts_them() -> None:
    lines = table_lines(b'a,b\n\n"two\nlines",1\nlast,2\n', "file")
    assert [number for number, _ in lines] == [1, 3, 4]


def test_what_is_no_table_is_said_so() -> None:
    with pytest.raises(DesignError, match="is no list that can be read"):
        table(b'a,"' + b"x" * 200_000, "file")  # a quote that never ends
    with pytest.raises(DesignError, match="is no text in UTF-8"):
        table(b"\x89PNG\r\n\x1a\n\0\0\0", "file")
    with pytest.raises(DesignError, match="is larger than 2 MB"):
        table(b"a" * 2_000_001, "file", 2_000_000)


def test_every_fault_is_gathered_and_every_good_line_is_kept() -> None:
    def whole(number: int, cells: list[str]) -> int:
        if not cells[0].isdecimal():
            raise DesignError("count" if cells[0] else "", "is no number")
        return int(cells[0]) * number

    found, faults = gathered([(2, ["5"]), (3, ["x"]), (4, [""]), (5, ["7"])], whole, [Fault(1, "shoe", "is odd")])
    assert found == [10, 35]
    assert faults == [Fault(1, "shoe", "is odd"), Fault(3, "count", "is no number"), Fault(4, None, "is no number")]


def test_a_table_that_was_written_runs_nothing_and_reads_back() -> None:
    cells = ["=1+1", "@x", 'two\nlines, "quoted"', 0.1 + 0.2, None, -3, "'tis"]
    content = table_text(["a", "b", "c", "d", "e", "f", "g"], [cells])
    plain = list(csv.reader(io.StringIO(content.decode("utf-8-sig"))))[1]
    assert not any(cell.startswith(("=", "@", "-")) for cell in plain)
    (_, read) = table_lines(content, "file")[1]
    assert [unguarded(cell) for cell in read] == ["=1+1", "@x", 'two\nlines, "quoted"', "0.3", "", "-3", "'tis"]
