# make serve    the site at http://127.0.0.1:8000/, built again at every change
# make test     every test
# The rest: setup, build, preview, check, bench, lock, clean. Each sets up what it needs first.

SHELL := /bin/sh
PORT ?= 8000
SITE_URL ?= http://127.0.0.1:$(PORT)/
# What .venv holds: requirements-test.txt for everything, requirements-site.txt to build the site only.
LOCK ?= requirements-test.txt
# Arguments for pytest: make test TESTS="tests/builder -x"
TESTS ?=

export PATH := $(CURDIR)/.venv/bin:$(PATH)
RUN := .venv/bin/python -m

.PHONY: setup serve preview build check test bench lock clean

setup: .venv/ready node_modules/.ready .venv/browsers

.venv/bin/python:
	python="$(PYTHON)"; [ -n "$$python" ] || python=$$(sh builder/setup.sh python); \
	[ -n "$$python" ] && "$$python" -m venv .venv

.venv/ready: $(LOCK) requirements-node.txt | .venv/bin/python
	$(RUN) pip install --quiet --disable-pip-version-check --require-hashes --requirement $(LOCK)
	touch $@

node_modules/.ready: package-lock.json .npmrc | .venv/ready
	sh builder/setup.sh node
	npm ci --silent
	touch $@

.venv/browsers: builder/setup.sh | .venv/ready
	sh builder/setup.sh browsers
	touch $@

serve: setup
	$(RUN) builder serve --port $(PORT)

preview: setup
	$(RUN) builder preview --port $(PORT)

build: setup
	$(RUN) builder build --site-url $(SITE_URL)

check: setup
	$(RUN) builder check

test: setup
	$(RUN) pytest -m "not bench" $(TESTS)

bench: setup
	$(RUN) pytest -m bench -s --durations=0 $(TESTS)

# Newer versions within the bounds of pyproject.toml and package.json, with their hashes.
lock: | .venv/bin/python
	$(RUN) pip install --quiet "uv>=0.9"
	for group in site test node; do \
		$(RUN) uv pip compile --quiet pyproject.toml --universal --python-version 3.12 --generate-hashes \
			--no-emit-index-url --no-header --upgrade --extra pictures --group $$group \
			--constraint requirements-site.txt --output-file requirements-$$group.txt || exit 1; \
	done
	sh builder/setup.sh node
	npm install --package-lock-only --silent

clean:
	rm -rf build site .venv node_modules .pytest_cache .hypothesis
