# make serve     the site at http://127.0.0.1:8000/, built again at every change
# make test      every test
# make preview   the site as published, with its offline worker
# make build     the site in site/, for SITE_URL
# make check     sources, types and data looked over, each mistake with its place
# make check-data  the data alone, each mistake with its cure
# make bench     how long the site takes to answer
# make corpus    how the calculators do on web pictures, every bound beside what was reached
# make corpus-detail  how often an enlarged picture is told from an original, by method and factor
# make fuzz      20,000 odd requests to all calculators, or COUNT of them from FIRST on
# make setup     all that the above need; they call it themselves
# make lock      the newest versions that pyproject.toml and package.json allow, pinned with their hashes
# make clean     everything away that was made here

SHELL := /bin/sh
PORT ?= 8000
SITE_URL ?= http://127.0.0.1:$(PORT)/
# Where the sources are, for the pages' links to edit them.
REPO_URL ?=
# What .venv holds: requirements-test.txt for everything, requirements-site.txt to build the site only.
LOCK ?= requirements-test.txt
# Arguments for pytest: make test TESTS="tests/builder -x"
TESTS ?=
# Processes that run tests; each takes a file at a time
WORKERS ?= 2
# Which half of the web pictures, and how many of them, 0 for all: make corpus HALF=test LIMIT=200
HALF ?= tuning
LIMIT ?= 0
# Which odd requests, how many and from which on: make fuzz SEED=2 COUNT=500 FIRST=4000
SEED ?= 1
COUNT ?= 20000
FIRST ?= 0
# Folders with further sample pictures: make corpus-detail FOLDERS=/usr/share/backgrounds
FOLDERS ?=

export PATH := $(CURDIR)/.venv/bin:$(PATH)
# Modules are stored compiled, also where the machine turns that off: the tests start hundreds of processes, and each
# would compile the same modules again.
unexport PYTHONDONTWRITEBYTECODE
RUN := .venv/bin/python -m

SITE_NEEDS := .venv/ready node_modules/.ready

.PHONY: help setup serve preview build check check-data test bench corpus corpus-detail fuzz lock clean

help:
	@sed -n 's/^# \(make .*\)/\1/p' Makefile

setup: $(SITE_NEEDS) .venv/browsers

.venv/bin/python:
	python="$(PYTHON)"; [ -n "$$python" ] || python=$$(sh builder/setup.sh python); \
	[ -n "$$python" ] && "$$python" -m venv .venv

# Python compiles a file when it is first imported. To compile all 7,400 now would take half a minute. Without PEP 517 the
# pip of Debian 12 also lists a package's setup.py among its modules.
.venv/ready: $(LOCK) requirements-node.txt | .venv/bin/python
	$(RUN) pip install --quiet --disable-pip-version-check --no-compile --use-pep517 --require-hashes --requirement $(LOCK)
	touch $@

node_modules/.ready: package-lock.json .npmrc | .venv/ready
	sh builder/setup.sh node
	npm ci --silent
	touch $@

.venv/browsers: builder/setup.sh | .venv/ready
	sh builder/setup.sh browsers
	touch $@

serve: $(SITE_NEEDS)
	$(RUN) builder serve --port $(PORT)

preview: $(SITE_NEEDS)
	$(RUN) builder preview --port $(PORT)

build: $(SITE_NEEDS)
	$(RUN) builder build --site-url '$(SITE_URL)' --repo-url '$(REPO_URL)'

# In the order of what takes least time; what was worked out is kept under build/ for the next time.
check: $(SITE_NEEDS)
	$(RUN) ruff check
	$(RUN) ruff format --check
	$(RUN) mypy
	npx --no-install tsc --build . tsconfig.nulls.json builder/runtime
	$(RUN) builder check

check-data: .venv/ready
	$(RUN) builder check

test: setup
	$(RUN) pytest -m "not bench" --numprocesses $(WORKERS) --dist loadfile --no-loadscope-reorder $(TESTS)

bench: setup
	$(RUN) pytest -m bench -s --durations=0 $(TESTS)

COMPILE := $(RUN) uv pip compile --quiet pyproject.toml --universal --python-version 3.11 --upgrade \
	--generate-hashes --no-emit-index-url --no-header --no-annotate

# Drawings that only the long run needs
build/corpus/npm/.ready: tests/corpus/long_run/package-lock.json .npmrc | $(SITE_NEEDS)
	mkdir -p $(@D)
	cp tests/corpus/long_run/package.json tests/corpus/long_run/package-lock.json .npmrc $(@D)
	npm ci --silent --prefix $(@D)
	touch $@

corpus: setup build/corpus/npm/.ready
	$(RUN) tests.corpus.measure_web --half $(HALF) --limit $(LIMIT)

corpus-detail: setup
	$(RUN) tests.corpus.measure_detail $(FOLDERS)

fuzz: .venv/ready
	mkdir -p build
	$(RUN) tests.fuzz.run --seed $(SEED) --first $(FIRST) --count $(COUNT) 2> build/fuzz.log

lock: | .venv/bin/python
	$(RUN) pip install --quiet "uv>=0.9"
	$(COMPILE) --extra pictures --group site --output-file requirements-site.txt
	$(COMPILE) --extra pictures --group test --constraint requirements-site.txt --output-file requirements-test.txt
	$(COMPILE) --group node --output-file requirements-node.txt
	sh builder/setup.sh node
	npm install --package-lock-only --silent
	npm install --package-lock-only --silent --omit-lockfile-registry-resolved --prefix tests/corpus/long_run
	$(RUN) builder.plain_lock package-lock.json tests/corpus/long_run/package-lock.json

clean:
	rm -rf build site .venv node_modules .pytest_cache .hypothesis
