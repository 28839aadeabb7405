"""Row lists: the words of a pattern, one thread a row."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from polestitch.document.rows import MOST_ROWS, RowList, row_list


@pytest.mark.parametrize(
    ("text", "threads"),
    [
        ("1 navy", "navy"),
        ("2 navy, 3 white, 1 gold", "navy navy white white white gold"),
        ("  2   navy ,1 white ", "navy navy white"),
        ("2 x (2 navy, 1 white)", "navy navy white navy navy white"),
        ("2x(1 navy)", "navy navy"),
        ("2 times (1 navy), 1 gold", "navy navy gold"),
        ("2 × (1 navy, 2 x (1 gold))", "navy gold gold navy gold gold"),
    ],
)
def test_a_row_list_is_one_thread_a_row(text: str, threads: str) -> None:
    assert row_list(text) == RowList(tuple(threads.split()), None)


def test_thread_names_keep_their_spaces_and_figures() -> None:
    assert row_list("2 light blue, 1 321, 1 no. 5 x 2").threads == ("light blue", "light blue", "321", "no. 5 x 2")


@pytest.mark.parametrize(
    ("text", "target"),
    [
        ("until obi: 2 navy", "obi"),
        ("Until neighbours : 2 navy", "neighbours"),
        ("until edge: 2 navy", "edge"),
        ("until 5 mm  from obi: 2 navy", "5 mm from obi"),
        ("until 1/3 from edge: 2 navy", "1/3 from edge"),
        ("until triangle 3: 2 navy", "triangle 3"),
        ("until N to obi 3, 1/3: 2 navy", "N to obi 3, 1/3"),
    ],
)
def test_rows_run_until_a_line_a_length_or_an_address(text: str, target: str) -> None:
    assert row_list(text) == RowList(("navy", "navy"), target)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "expected a number of rows and a thread at the end"),
        ("navy", 'at "navy"'),
        ("2", 'at "2"'),
        ("2 navy,", "at the end"),
        ("2 navy 3 x (1 white)", 'cannot read "(1 white)"'),
        ("(2 navy)", 'at "(2 navy)"'),
        ("2 x (1 navy", "a closing bracket is missing"),
        ("2 navy)", 'cannot read ")"'),
        ("2 x ()", 'at ")"'),
        ("-2 navy", 'at "-2 navy"'),
        ("0 navy", "0 rows"),
        ("3 navy, 0 x (1 white)", "0 rows"),
        ("1000000 navy", "over 2000 rows"),
        ("9" * 6000 + " navy", "over 2000 rows"),
        ("1000 x (3 navy)", "over 2000 rows"),
        ("1500 navy, 1500 white", "over 2000 rows"),
        ("until: 2 navy", "must say until what"),
        ("until obi 2 navy", "a colon is missing"),
        ("until 5 mm: 2 navy", "must say where it counts from"),
        ("until obi: ", "at the end"),
        ("1 x (" * 300 + "1 navy" + ")" * 300, "more than 8 deep"),
    ],
)
def test_a_mistake_in_rows_is_one_sentence(text: str, says: str) -> None:
    with pytest.raises(ValueError, match=r"^[^\n]+$") as caught:
        row_list(text)
    assert says in str(caught.value)


def test_the_largest_row_list_is_read_and_one_row_more_is_not() -> None:
    assert len(row_list(f"{MOST_ROWS} navy").threads) == MOST_ROWS
    with pytest.raises(ValueError, match="over 2000"):
        row_list(f"{MOST_ROWS + 1} navy")


RUNS = st.lists(st.tuples(st.integers(1, 20), st.sampled_from(["navy", "light blue", "321"])), min_size=1, max_size=6)


@given(RUNS, st.integers(1, 9))
def test_a_repeat_is_its_list_written_out(runs: list[tuple[int, str]], times: int) -> None:
    once = ", ".join(f"{count} {name}" for count, name in runs)
    written_out = ", ".join([once] * times)
    assert row_list(f"{times} x ({once})") == row_list(written_out)
    assert len(row_list(written_out).threads) == times * sum(count for count, _ in runs)
