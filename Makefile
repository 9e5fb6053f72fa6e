# The front door. `make demo` and `make test` do all the set-up themselves.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
STAMP := $(VENV)/.halfpan-ready
# Tests run in a shuffled order; the same one each time, unless make test SEED=last or a number says otherwise.
SEED ?= 7

.PHONY: demo studio test lint bench format chromium clean

demo: $(STAMP)
	$(BIN)/halfpan demo --out out/demo

studio: $(STAMP)
	$(BIN)/halfpan serve

test: $(STAMP) chromium
	$(BIN)/python -m pytest -n 2 --dist worksteal -p randomly --randomly-seed=$(SEED)

lint: $(STAMP)
	$(BIN)/ruff format --check src tests bench
	$(BIN)/ruff check src tests bench
	$(BIN)/mypy
	$(BIN)/lint-imports
	$(BIN)/codespell src tests docs bench README.md CHANGELOG.md CONTRIBUTING.md
	$(BIN)/python tests/test_tree.py

bench: $(STAMP)
	$(BIN)/python bench/all.py

format: $(STAMP)
	$(BIN)/ruff format src tests bench
	$(BIN)/ruff check --fix src tests bench

$(STAMP): requirements.lock pyproject.toml
	@$(PYTHON) -c 'import sys; sys.exit(not (3, 11) <= sys.version_info[:2] <= (3, 13))' \
	  || { echo "Halfpan needs Python 3.11, 3.12 or 3.13: try make PYTHON=python3.12"; exit 1; }
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements.lock
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --no-deps --no-build-isolation -e .
	@touch $@

# The browser tests drive Debian's Chromium. It is installed when that is allowed, else those tests say so and skip.
chromium:
	@command -v chromium >/dev/null 2>&1 || { \
	  if [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then \
	    echo "Installing Chromium for the browser tests ..."; \
	    apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq chromium >/dev/null; \
	  fi; } || true
	@command -v chromium >/dev/null 2>&1 || echo "Chromium is not here: the browser tests will be skipped."

clean:
	rm -rf $(VENV) out build dist .mypy_cache .ruff_cache .pytest_cache .hypothesis
