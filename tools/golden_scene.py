"""Write the golden scene that Python's and the front end's tests decode: run it when the format changes."""

import json
from pathlib import Path

from polestitch.pipeline import build
from polestitch.scene import decoded, encoded, scene
from tests.scene.samples import SAMPLE

FOLDER = Path(__file__).parents[1] / "web/src/wire/golden"


def main() -> None:
    """``scene.bin``, and its values as ``scene.json``."""
    FOLDER.mkdir(parents=True, exist_ok=True)
    data = encoded(scene(build(SAMPLE), 7))
    got = decoded(data)
    values = {"index": got.index, "arrays": {name: array.tolist() for name, array in got.arrays.items()}}
    (FOLDER / "scene.bin").write_bytes(data)
    (FOLDER / "scene.json").write_text(json.dumps(values, indent=1, ensure_ascii=False) + "\n")


if __name__ == "__main__":
    main()
