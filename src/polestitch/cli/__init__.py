"""The command line: the only room that reads and writes files.

In: what the maker typed.  Out: files, readable tables, JSON, and an exit status (2 with one sentence on a mistake).
"""

import gc
import sys


def main() -> None:
    """Run the command the maker typed, and leave with its exit status."""
    # A process this short makes hardly any garbage; looking for it while modules load, and once more at the
    # end, takes a seventh of the time until help appears.
    gc.set_threshold(100_000)
    from polestitch.cli.app import exit_status

    status = exit_status(sys.argv[1:])
    gc.freeze()
    sys.exit(status)
