"""What a file is called."""

import pytest

from polestitch.document.filenames import file_stem


@pytest.mark.parametrize(
    ("name", "stem"),
    [
        ("Quay lamps", "quay-lamps"),
        ("../../etc/passwd", "etc-passwd"),
        ("  C10/32: *twelve* ", "c10-32-twelve"),
        ("上掛け", "ball"),
        ("a" * 90, "a" * 60),
    ],
)
def test_a_name_becomes_one_that_every_system_keeps(name: str, stem: str) -> None:
    assert file_stem(name) == stem


def test_another_word_stands_where_nothing_is_left() -> None:
    assert file_stem("…", "show") == "show"
