"""Running a command as a maker would, inside the test's own process."""

from typing import NamedTuple

import pytest

from polestitch.cli.app import exit_status


class Said(NamedTuple):
    """What a command printed, and the status it left."""

    status: int
    out: str
    err: str


class Terminal:
    """Runs commands and catches what they say."""

    def __init__(self, capsys: pytest.CaptureFixture[str]) -> None:
        self.capsys = capsys

    def run(self, *arguments: object) -> Said:
        status = exit_status([str(argument) for argument in arguments])
        out, err = self.capsys.readouterr()
        return Said(status, out, err)

    def refused(self, *arguments: object) -> str:
        """The one sentence of a command that cannot do what it is asked."""
        said = self.run(*arguments)
        assert said.status == 2
        assert said.out == ""
        assert said.err.count("\n") == 1
        assert said.err.endswith("\n")
        return said.err.strip()
