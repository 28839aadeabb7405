# One verb each.  Everything happens in .venv, which is made anew when pyproject.toml or constraints.txt change.
PYTHON ?= python3
BIN := .venv/bin
ROOMS := document sphere marking stitching laying

.PHONY: setup studio test check bench golden docs clean

setup: .venv/.ready

.venv/.ready: pyproject.toml constraints.txt
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || \
		{ echo "Polestitch needs Python 3.11 or newer; name yours: make PYTHON=python3.12 $(MAKECMDGOALS)"; exit 1; }
	$(PYTHON) -m venv --clear .venv
	$(BIN)/pip install --quiet --disable-pip-version-check -c constraints.txt hatchling editables
	$(BIN)/pip install --quiet --disable-pip-version-check -c constraints.txt --no-build-isolation -e '.[dev]'
	@touch $@

# For now: the demo work-up.  Booklet, strip and pictures of every example go to out/.
studio: setup
	$(BIN)/polestitch demo --out out --examples examples

test: check
	$(BIN)/pytest -q $(ROOMS:%=--cov=polestitch.%) --cov-report=term

check: setup
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/lint-imports --no-logo

bench: setup
	$(BIN)/python -m benchmarks

golden: setup
	$(BIN)/pytest -q tests --update-golden

docs: setup
	$(BIN)/python -m tools.reference_pages

clean:
	rm -rf .venv out .mypy_cache .ruff_cache .pytest_cache .hypothesis .import_linter_cache .coverage
