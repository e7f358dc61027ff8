# make          lists the targets
# make demo     and `make test` work on a fresh clone with nothing but python3 (3.11 or newer) and the network

PYTHON ?= python3
UV_VERSION := 0.13.9
WORKERS ?= 2

VENV := .venv
BIN := $(VENV)/bin
INSTALLED := $(VENV)/.installed
UV := $(BIN)/uv
COMPILE := $(UV) pip compile --quiet --universal --python-version 3.11 --generate-hashes --no-emit-index-url \
	--no-header --extra dev pyproject.toml

# Certificates of the system, the Python that is here, and plain copies: the same on every machine.
export UV_PYTHON_DOWNLOADS := never
export UV_LINK_MODE := copy
export UV_SYSTEM_CERTS := true
export PIP_DISABLE_PIP_VERSION_CHECK := 1

.DEFAULT_GOAL := help
.DELETE_ON_ERROR:
.PHONY: help setup demo test check lint fresh-lock lock bench clean

help:  ## list the targets
	@sed -n 's/^\([a-z-]*\):.*##  *\(.*\)/  make \1|\2/p' $(MAKEFILE_LIST) | \
		while IFS='|' read -r target meaning; do printf '%-18s %s\n' "$$target" "$$meaning"; done

setup: $(INSTALLED)  ## make .venv from the lock

demo: $(INSTALLED)  ## make the packs of all examples in build/demo
	$(BIN)/python -m foldproof.cli.demo build/demo

test: $(INSTALLED)  ## run every test
	$(BIN)/python -m pytest -q -n $(WORKERS)

check: lint fresh-lock test  ## everything a change must pass

lint: $(INSTALLED)  ## style, types and import contracts, without tests
	$(BIN)/ruff check .
	$(BIN)/mypy $(wildcard src benchmarks)
	$(BIN)/lint-imports --no-logo

# Compiling over a copy keeps the versions it names, so this fails only when pyproject.toml asks for something else.
fresh-lock: $(INSTALLED)  ## is the lock what pyproject.toml asks for?
	@mkdir -p build && cp requirements.lock build/requirements.lock
	@$(COMPILE) --output-file build/requirements.lock > /dev/null
	@cmp -s requirements.lock build/requirements.lock || \
		{ echo "requirements.lock is out of date: run 'make lock' and commit it." >&2; exit 1; }
	@echo "requirements.lock is fresh"

lock: $(UV)  ## write the lock again, with the newest versions
	$(COMPILE) --upgrade --output-file requirements.lock > /dev/null

bench: $(INSTALLED)  ## time the parts that must be fast
	$(BIN)/python -m benchmarks

clean:  ## remove everything that was made
	rm -rf $(VENV) build .mypy_cache .ruff_cache .pytest_cache .import_linter_cache .hypothesis
	find src tests -name __pycache__ -type d -prune -exec rm -rf {} +

$(UV):
	@command -v $(PYTHON) > /dev/null || \
		{ echo "Foldproof needs Python 3.11 or newer. Install python3, or name one: make PYTHON=/path/to/python3" >&2; exit 1; }
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || \
		{ echo "Foldproof needs Python 3.11 or newer; this is `$(PYTHON) --version`." \
			"Install a newer one and name it: make PYTHON=python3.11" >&2; exit 1; }
	@$(PYTHON) -c 'import ensurepip, venv' 2> /dev/null || \
		{ echo "This Python cannot make virtual environments. On Debian or Ubuntu: apt-get install python3-venv" >&2; exit 1; }
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet uv==$(UV_VERSION)

$(INSTALLED): requirements.lock pyproject.toml | $(UV)
	$(UV) pip install --quiet --python $(BIN)/python --require-hashes --requirement requirements.lock
	$(UV) pip install --quiet --python $(BIN)/python --no-deps --no-build-isolation --editable .
	@touch $(INSTALLED)
