# Verbs; each does its own set-up. Needs Python 3.11 or later (PYTHON=... to choose one) and make.
#   run     an example car: suspects and next step here, then its page on this machine until stopped (RUN_ONCE=1: no page)
#   test    all tests and the examples in the docstrings
#   check   style, types, layers, words
#   fix     what the style checks can put right by themselves
#   bench   how fast, into build/figures.json (FULL=1: the package, faults put into the code, killed processes; an hour)
#   prove   simulated cars and real repairs, into build/figures.json (FULL=1: many cars, kept in docs/figures; ONLY=ways; CARS=20;
#           a run that was stopped goes on where it was; ONLY=develop: cars to look at one by one, from seed FIRST on; WAYS=voi1,played)
#   golden  write the expected texts anew; review the diff
#   docs    the documentation, into site/

PYTHON ?= $(shell command -v .venv/bin/python || command -v python3.11 || command -v python3 || echo python3.11)
SET_UP = @$(PYTHON) tools/set_up.py
IN = .venv/bin
unexport PYTHONDONTWRITEBYTECODE PYTHONPATH PYTHONHOME VIRTUAL_ENV

.PHONY: run test check fix bench prove golden docs

run:
	$(SET_UP) run
	@$(IN)/python -m knowngood.cli.example

test:
	$(SET_UP) dev
	@$(IN)/python -m pytest -n 2

check:
	$(SET_UP) dev
	@tools/check.sh

fix:
	$(SET_UP) dev
	@$(IN)/ruff format
	@$(IN)/ruff check --fix

bench:
	$(SET_UP) dev
	@mkdir -p build
	@FULL=$(FULL) $(IN)/python -m benchmarks

prove:
	$(SET_UP) dev
	@mkdir -p build
	@OMP_NUM_THREADS=1 FULL=$(FULL) ONLY=$(ONLY) CARS=$(CARS) WAYS=$(WAYS) FIRST=$(FIRST) $(IN)/python -m knowngood.proving

golden:
	$(SET_UP) dev
	@$(IN)/python -m pytest -n 2 --golden tests/golden tests/docs/test_library_pages.py

docs:
	$(SET_UP) docs
	@NO_MKDOCS_2_WARNING=1 $(IN)/mkdocs build --strict --quiet
	@echo "site/index.html is the first page."
