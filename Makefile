# Two commands do all: `make demo` and `make test`. Both need cargo, python3, make and a C compiler; all else they install.

VENV    := .venv
PYTHON  := $(VENV)/bin/python
DEMO    := demo-report
# What the installed package is made of: when one of these changes, it is built anew.
SOURCES := Cargo.toml Cargo.lock pyproject.toml README.md \
           $(shell find src python benches -type f -not -name '*.pyc' -not -name '*.so')
# nextest where the machine has it: it runs the same tests, faster.
RUNNER  := $(shell cargo nextest --version >/dev/null 2>&1 && echo nextest run || echo test --all-targets)

# Side by side, two at a time, each with its output in one piece. Only for what uses one core and is not timed: tests that ask
# for a stop within 50 ms, or a slider's move within as much, have the machine to themselves.
LANES   := $(MAKE) --no-print-directory -j2 $(if $(filter output-sync,$(.FEATURES)),--output-sync=target)

.PHONY: demo test bench counts coverage docs wheels browser check-format check-lints check-rust check-docs check-python \
        check-stubs check-notebooks check-pages check-package header format clean

demo: $(VENV)/installed
	$(VENV)/bin/loamline plan demo -o $(DEMO)
	@echo "Open $(DEMO)/report.html in a browser; print $(DEMO)/field-sheet.pdf to take outside."

test:
	$(MAKE) --no-print-directory check-format
	+$(LANES) check-lints $(VENV)/tools browser
	$(MAKE) --no-print-directory check-rust check-python check-notebooks
	+$(LANES) check-docs check-stubs check-package
	$(MAKE) --no-print-directory check-pages

check-format:
	cargo fmt --check
check-lints:
	cargo clippy --workspace --all-targets -- -D warnings
check-rust:
	cargo $(RUNNER) --workspace
	cargo test --doc --quiet --workspace
	.ci/run-examples
# The core's pages, the only ones; the workspace is named for its features: what the lints have looked at serves.
check-docs:
	RUSTDOCFLAGS="-D warnings" cargo doc --workspace --no-deps --quiet
check-python: $(VENV)/installed-for-tests browser
	$(PYTHON) -m pytest tests/python -n 2 --dist loadfile
check-stubs: $(VENV)/installed-for-tests
	$(PYTHON) -m mypy
	cd tests && ../$(PYTHON) -m mypy.stubtest loamline
check-notebooks: $(VENV)/installed-for-tests
	$(PYTHON) .ci/run-notebooks notebooks
check-pages: check-docs $(VENV)/installed-for-tests browser
	.ci/build-pages $(PYTHON)
	$(PYTHON) -m pytest tests/pages -n 2 --dist loadgroup
check-package: $(VENV)/installed-for-tests
	.ci/check-licences
	cargo package --quiet --allow-dirty --no-verify
	.ci/check-crate
	.ci/check-sdist $(PYTHON)

# Criterion's benches, each file one question; then flights from Python beside scipy, numpy and numba; both as one table.
bench: $(VENV)/installed
	cargo bench
	$(PYTHON) -m pip install --quiet --group bench
	OPENBLAS_NUM_THREADS=1 $(PYTHON) benches/python/table.py

# Instructions of the kernels, held to those that are kept: the clock is not asked.
counts:
	.ci/count-instructions

# Lines that the tests run, of the crate (LLVM's counts) and of the Python package; a build of its own.
coverage: $(VENV)/installed-for-tests
	.ci/coverage
	$(PYTHON) -m pip install --quiet --group coverage
	-$(PYTHON) -m pytest tests/python -n 2 --dist loadfile --cov --cov-report=term

# The documentation site, with the crate's own pages beside it.
docs: check-docs $(VENV)/installed-for-pages
	.ci/build-pages $(PYTHON)
	@echo "Open docs/_site/index.html in a browser."

# What is handed to others to install: see the script.
wheels: $(VENV)/bin/python
	.ci/build-wheels $(PYTHON)

# The C header from its source; needs cbindgen (`cargo install cbindgen`). A test says when it is due.
header:
	cbindgen --config src/c/cbindgen.toml --output src/c/loamline.h src/c

format:
	cargo fmt

browser:
	.ci/install-browser

$(VENV)/bin/python:
	.ci/make-venv $(VENV)
$(VENV)/installed: $(VENV)/bin/python $(SOURCES)
	$(PYTHON) -m pip install --quiet .
	@touch $@
$(VENV)/tools: $(VENV)/bin/python pyproject.toml
	$(PYTHON) -m pip install --quiet --group test
	@touch $@
$(VENV)/installed-for-tests: $(VENV)/tools $(VENV)/installed
	@touch $@
$(VENV)/installed-for-pages: $(VENV)/installed
	$(PYTHON) -m pip install --quiet --group pages
	@touch $@

clean:
	rm -rf $(VENV) $(DEMO) target docs/_site docs/_generated
