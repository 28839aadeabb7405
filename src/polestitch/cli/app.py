"""All commands in one list, and what becomes of their mistakes.

In: arguments.  Out: an exit status.  Nothing heavy is imported before a command needs it, so that help is instant.
"""

import io
import sys
from collections.abc import Callable, Sequence

import typer

from polestitch.cli import (
    balls,
    catalogue,
    classes,
    colouring,
    demo,
    designs,
    families,
    fitting,
    hands,
    pricing,
    showing,
    studio,
    surveying,
    wound,
)
from polestitch.cli.files import os_sentence
from polestitch.errors import DesignError

MISTAKE, INTERRUPTED = 2, 130

app = typer.Typer(
    name="polestitch",
    help="A studio for people who make temari: from a design file to a booklet you can stitch from.",
    # Plain help: loading rich for it would double the time until it appears.
    rich_markup_mode=None,
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
)
COMMANDS: dict[str, Callable[..., None]] = {
    "studio": studio.studio,
    "families": families.families,
    "new": families.new,
    "work": designs.work,
    "check": designs.check,
    "thread": designs.thread,
    "sheets": designs.sheets,
    "picture": designs.picture,
    "marking": balls.marking,
    "strip": balls.strip,
    "survey": surveying.survey,
    "survey-form": surveying.survey_form,
    "survey-sheet": surveying.survey_sheet,
    "colour-plans": colouring.colour_plans,
    "recolour": colouring.recolour,
    "shades": colouring.shades,
    "winding": wound.winding,
    "winding-sheet": wound.winding_sheet,
    "roundness": wound.roundness,
    "sampler": hands.sampler,
    "hand": hands.hand,
    "hours": pricing.hours,
    "price": pricing.price,
    "costs-schema": pricing.costs_schema,
    "fit": fitting.fit,
    "replan": fitting.replan,
    "sizes": fitting.sizes,
    "class": classes.lesson,
    "class-papers": classes.papers,
    "techniques": catalogue.techniques,
    "divisions": catalogue.divisions,
    "show": showing.show_said,
    "show-papers": showing.show_papers,
    "record": showing.record,
    "schema": catalogue.schema,
}
for name, command in COMMANDS.items():
    app.command(name)(command)
app.command("demo", hidden=True)(demo.demo)


def exit_status(arguments: Sequence[str]) -> int:
    """Run one command; every mistake becomes one sentence on the error stream and status 2."""
    try:
        status = int(app(list(arguments), prog_name="polestitch", standalone_mode=False) or 0)
        sys.stdout.flush()  # a full disk is told here, not after the last word
        return status
    except DesignError as error:
        return _told(str(error))
    except typer.TyperException as error:
        command = arguments[0] + " " if arguments and arguments[0] in COMMANDS else ""
        return _told(f"{error.format_message().rstrip('.')}; polestitch {command}--help tells what can be asked")
    except BrokenPipeError:
        return _unheard()
    except OSError as error:
        return _told(os_sentence(error))
    except (typer.Abort, KeyboardInterrupt):
        return INTERRUPTED


def _unheard() -> int:
    """Whoever read the output, such as ``head``, has had enough: that is no mistake."""
    sys.stdout = io.StringIO()  # what is still waiting goes nowhere
    return 0


def _told(sentence: str) -> int:
    """Print ``sentence`` on one line, without signs that could steer a terminal."""
    one_line = " ".join(sentence.split())
    if one_line:
        sys.stderr.write("".join(letter if letter.isprintable() else "?" for letter in one_line) + "\n")
    return MISTAKE
