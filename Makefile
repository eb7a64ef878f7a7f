# Everything a newcomer needs: `make run` plans an example and opens the pages, `make test` checks the whole house.
# Each target sets up .venv by itself, from locks with hashes.

PYTHON ?= python3
VENV   := .venv
BIN    := $(VENV)/bin
READY  := $(VENV)/.ready
OUT    := out
JOB    ?= examples/bridge-pin.toml
NAME   := $(basename $(notdir $(JOB)))

.PHONY: run test bench lint soak lock clean
.DELETE_ON_ERROR:

$(READY): requirements-dev.lock pyproject.toml
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --require-hashes -r requirements-dev.lock
	$(BIN)/python -m pip install --quiet --no-build-isolation --no-deps -e .
	touch $@

# Plan an example, write its drawing, table and plan under out/, then open the pages with all examples in them.
# Where there is no screen, the address is printed. Ctrl+C stops it.
run: $(READY)
	@mkdir -p $(OUT)
	@$(BIN)/ovolo plan $(JOB) --svg $(OUT)/$(NAME).svg --csv $(OUT)/$(NAME).csv --json $(OUT)/$(NAME).json
	@echo
	@echo "Drawing: $(OUT)/$(NAME).svg"
	@echo "Moves:   $(OUT)/$(NAME).csv"
	@echo "Plan:    $(OUT)/$(NAME).json"
	@echo
	@$(BIN)/ovolo open

# Style, types, the direction of imports, then every test and every worked example in a docstring, by as many workers as
# processors, up to 4. WORKERS=3 suits two processors: tests with a browser wait more than they work.
WORKERS ?= auto
test: lint
	$(BIN)/python -m pytest -n $(WORKERS) --maxprocesses 4 --dist worksteal

lint: $(READY)
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/lint-imports

# How fast, on this machine; ratios say more than seconds.
bench: $(READY)
	@mkdir -p $(OUT)
	$(BIN)/python -m pytest benchmarks --benchmark-only --benchmark-json=$(OUT)/bench.json
	$(BIN)/python -m benchmarks.ratios $(OUT)/bench.json

# Random jobs for as long as one likes, two at a time: make soak EXAMPLES=20000. Stop it with Ctrl-C; the same command
# goes on from there. The other random tests follow, as many each.
EXAMPLES ?= 2000
soak: $(READY)
	$(BIN)/python -m tests.properties.soak --cases $(EXAMPLES) --folder $(OUT)/soak
	OVOLO_SOAK=$(EXAMPLES) $(BIN)/python -m pytest tests/properties tests/check/test_checking.py
	$(BIN)/python -m tests.check.soak --parts 112
	OVOLO_OVERSHOOTS=2000 OVOLO_WAYS_BACK=2000 $(BIN)/python -m pytest tests/predict/forecast/test_overshoot.py tests/predict/forecast/test_going_on.py tests/setup/test_way_back.py
	OVOLO_TURN_KILLS=500 OVOLO_TURN_MINUTES=30 $(BIN)/python -m pytest tests/browser/test_turn_kills.py

# Write the locks anew: hashes, no addresses. Needs uv (python3 -m pip install uv).
COMPILE := uv pip compile --quiet --generate-hashes --universal --no-emit-index-url --no-header --no-annotate
lock:
	$(COMPILE) pyproject.toml -o requirements.lock
	$(COMPILE) pyproject.toml --group dev -c requirements.lock -o requirements-dev.lock

clean:
	rm -rf $(VENV) $(OUT) build dist .pytest_cache .mypy_cache .ruff_cache .import_linter_cache .hypothesis .benchmarks
	find src tests benchmarks -name __pycache__ -type d -prune -exec rm -rf {} + 2>/dev/null || true
