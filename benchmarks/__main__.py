"""``make bench``: every speed goal as a ratio against its reference, measured in this run."""

import importlib
import pkgutil

import benchmarks


def main() -> None:
    """Print one line a goal: met or missed, the ratio, the aim."""
    for module in pkgutil.iter_modules(benchmarks.__path__):
        made = importlib.import_module(f"benchmarks.{module.name}") if module.name != "__main__" else None
        for goal, ratio, aim in getattr(made, "rows", list)():
            at_most = goal.startswith("<=")
            met = ratio <= aim if at_most else ratio >= aim
            word = "at most" if at_most else "at least"
            print(f"{'met   ' if met else 'MISSED'}  {ratio:8.2f}  aim {word} {aim:g}  {goal.removeprefix('<= ')}")


if __name__ == "__main__":
    main()
