"""The house rules that a machine can keep: sizes, names, docstrings, and who may touch what."""

import ast
from collections.abc import Callable, Iterable, Iterator
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "src" / "polestitch"
SOURCES = sorted(PACKAGE.rglob("*.py"))
ALL_FILES = [*SOURCES, *sorted((ROOT / "tests").rglob("*.py")), *sorted((ROOT / "benchmarks").rglob("*.py"))]
TECHNIQUES = [path for path in sorted((PACKAGE / "stitching" / "techniques").glob("*.py")) if path.stem != "__init__"]

LONGEST_FILE, LONGEST_FUNCTION = 400, 60
FORBIDDEN_STARTS = ("get_", "compute_", "calc_", "calculate_", "handle_", "do_", "process_")
FORBIDDEN_FILES = {"utils", "util", "helpers", "helper", "common", "manager", "misc"}
# The glossary's "never also" column, as far as these words have no other meaning here.
FORBIDDEN_WORDS = {"preset", "mesh", "skeleton", "vertex", "iteration", "polyline", "intersection", "engine"}
# Files, clock, network and chance belong to command line, store and studio; all else answers the same every time.
OUTSIDE_WORLD = {"os", "pathlib", "socket", "urllib", "http", "time", "random", "subprocess", "tempfile"}
# A date can be read from text anywhere; what time it is now comes from outside.
READS_THE_CLOCK = {"now", "utcnow", "today"}

Function = ast.FunctionDef | ast.AsyncFunctionDef
KEPT = (ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef, ast.Import, ast.ImportFrom)


def offenders(paths: Iterable[Path], wrong: Callable[[Path], Iterable[str]]) -> list[str]:
    """Every ``file: what`` that breaks a rule."""
    return [f"{path.relative_to(ROOT)}: {what}" for path in paths for what in wrong(path)]


@cache
def text(path: Path) -> str:
    return path.read_text(encoding="utf-8")


@cache
def tree(path: Path) -> ast.Module:
    return ast.parse(text(path))


@cache
def nodes(path: Path) -> tuple[ast.AST, ...]:
    return tuple(node for node in ast.walk(tree(path)) if isinstance(node, KEPT))


def functions(path: Path) -> Iterator[Function]:
    return (node for node in nodes(path) if isinstance(node, Function))


def lines_without_docstring(function: Function) -> int:
    first = function.body[0]
    has = ast.get_docstring(function, clean=False) is not None
    documented = (first.end_lineno or 0) - first.lineno + 1 if has else 0
    return (function.end_lineno or 0) - function.lineno + 1 - documented


def imports(path: Path) -> Iterator[str]:
    for node in nodes(path):
        if isinstance(node, ast.ImportFrom):
            yield node.module or ""
        elif isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)


@pytest.mark.slow  # the first to look reads every file
def test_a_file_stays_short() -> None:
    def wrong(path: Path) -> Iterator[str]:
        lines = len(text(path).splitlines())
        if lines > LONGEST_FILE:
            yield f"{lines} lines"

    assert offenders(ALL_FILES, wrong) == []


@pytest.mark.slow
def test_a_function_stays_short() -> None:
    def wrong(path: Path) -> Iterator[str]:
        return (f.name for f in functions(path) if lines_without_docstring(f) > LONGEST_FUNCTION)

    assert offenders(ALL_FILES, wrong) == []


def undocumented(path: Path) -> Iterator[str]:
    module = tree(path)
    if module.body and not ast.get_docstring(module):
        yield "the module itself"
    for node in public(module):
        if not ast.get_docstring(node):
            yield node.name


def public(node: ast.Module | ast.ClassDef) -> Iterator[Function | ast.ClassDef]:
    """Functions, classes and methods without a leading underscore."""
    for inner in node.body:
        if isinstance(inner, Function | ast.ClassDef) and not inner.name.startswith("_"):
            yield inner
            if isinstance(inner, ast.ClassDef):
                yield from public(inner)


def test_everything_public_says_what_it_is() -> None:
    assert offenders(SOURCES, undocumented) == []


def test_a_function_is_named_for_what_comes_back() -> None:
    def wrong(path: Path) -> Iterator[str]:
        ours = (f.name for f in functions(path) if not f.name.startswith("__"))
        return (name for name in ours if name.lstrip("_").startswith(FORBIDDEN_STARTS))

    assert offenders(SOURCES, wrong) == []


def test_one_word_has_one_meaning() -> None:
    def wrong(path: Path) -> Iterator[str]:
        named = (node.name for node in nodes(path) if isinstance(node, Function | ast.ClassDef))
        return (name for name in named if FORBIDDEN_WORDS & set(name.lower().split("_")))

    assert offenders(SOURCES, wrong) == []


def test_no_file_is_a_drawer_for_everything() -> None:
    assert [path.name for path in ALL_FILES if path.stem in FORBIDDEN_FILES] == []


def test_only_command_line_store_and_studio_touch_the_outside_world() -> None:
    outside = {PACKAGE / room for room in ("cli", "store", "studio")}
    inside = [path for path in SOURCES if not outside & set(path.parents)]

    def wrong(path: Path) -> Iterator[str]:
        yield from (name for name in imports(path) if name.split(".")[0] in OUTSIDE_WORLD)
        named = (node.attr for node in ast.walk(tree(path)) if isinstance(node, ast.Attribute))
        if any(name.split(".")[0] == "datetime" for name in imports(path)):
            yield from (name for name in named if name in READS_THE_CLOCK)

    assert offenders(inside, wrong) == []


def test_a_technique_is_one_file_and_one_test() -> None:
    tests = {path.stem.removeprefix("test_") for path in (ROOT / "tests/stitching/techniques").glob("test_*.py")}
    assert tests == {path.stem for path in TECHNIQUES}


def test_no_technique_imports_another() -> None:
    assert offenders(TECHNIQUES, lambda path: (name for name in imports(path) if "stitching.techniques" in name)) == []


def top_names(path: Path) -> list[str]:
    """What a module defines, in order."""
    found: list[str] = []
    for node in tree(path).body:
        if isinstance(node, ast.Assign):
            found += [ast.unparse(target) for target in node.targets]
        elif isinstance(node, Function | ast.ClassDef):
            found.append(node.name)
    return found


def test_every_technique_reads_in_the_same_order() -> None:
    """Docstring, place, example, params, stitch, then what is private."""
    wanted = ["PLACE", "EXAMPLE", "Params", "stitch"]

    def wrong(path: Path) -> Iterator[str]:
        order = top_names(path)
        if [name for name in order if name in wanted] != wanted:
            yield f"has {', '.join(order)}"
        yield from (name for name in order[order.index("stitch") + 1 :] if not name.startswith("_"))

    assert offenders(TECHNIQUES, wrong) == []


def test_nothing_is_silenced_or_put_off() -> None:
    marks = ["# type:" + " ignore", "# no" + "qa", "TO" + "DO", "FIX" + "ME", "pytest.mark." + "skip", "x" + "fail("]

    def wrong(path: Path) -> Iterator[str]:
        return (mark for mark in marks if mark in text(path))

    assert offenders(ALL_FILES, wrong) == []
