"""The command line: the only room that reads and writes files.

In: what the maker typed.  Out: files, readable tables, JSON, and an exit status (2 with one sentence on a mistake).
"""

import sys


def main() -> None:
    """Run the command the maker typed, and leave with its exit status."""
    from polestitch.cli.app import exit_status

    sys.exit(exit_status(sys.argv[1:]))
