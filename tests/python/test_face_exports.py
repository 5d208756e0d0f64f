"""The package's names, their docs, and their examples."""

import ast
import doctest
import importlib
import inspect
import subprocess
import sys
from pathlib import Path

import pytest

import loamline as ll

STUB = Path(ll.__file__).with_name("_native.pyi")


def test_all_says_what_there_is():
    public = {n for n, v in vars(ll).items() if not n.startswith("_") and not inspect.ismodule(v)}
    assert public | {"__version__"} == set(ll.__all__)
    assert list(ll.__all__) == sorted(ll.__all__)


def test_everything_public_in_the_native_module_is_in_the_package():
    native = importlib.import_module("loamline._native")
    assert {n for n in native.__all__ if not n.startswith("_")} <= set(ll.__all__)


def documented():
    """Every public thing of the package and every public member of its classes."""
    for name in ll.__all__:
        item = getattr(ll, name)
        if name == "__version__":
            continue
        yield name, item
        if inspect.isclass(item) and not issubclass(item, Exception):
            for member, value in vars(item).items():
                if not member.startswith("_"):
                    yield f"{name}.{member}", getattr(item, member)


# Sorted: a class of the native part lists its members in another order each time.
DOCUMENTED = dict(sorted(documented(), key=lambda pair: pair[0]))


@pytest.mark.parametrize("name", DOCUMENTED)
def test_docs_are_there_and_their_examples_hold(name):
    doc = inspect.getdoc(DOCUMENTED[name])
    assert doc
    test = doctest.DocTestParser().get_doctest(doc, {}, name, None, None)
    runner = doctest.DocTestRunner(optionflags=doctest.NORMALIZE_WHITESPACE)
    runner.run(test)
    assert runner.failures == 0


def test_the_package_example_holds():
    assert doctest.testmod(ll).failed == 0


def stub_docs():
    """The docstrings of the stub, by dotted name."""
    for node in ast.parse(STUB.read_text()).body:
        if isinstance(node, ast.ClassDef | ast.FunctionDef):
            yield node.name, ast.get_docstring(node)
            for inner in getattr(node, "body", []):
                if isinstance(node, ast.ClassDef) and isinstance(inner, ast.FunctionDef):
                    yield f"{node.name}.{inner.name}", ast.get_docstring(inner)


def test_stub_and_runtime_say_the_same():
    stub = dict(stub_docs())
    for name, item in DOCUMENTED.items():
        if name in stub:
            assert stub[name] == inspect.getdoc(item), name


def test_import_is_silent_and_leaves_plots_and_frames_out():
    code = (
        "import sys, loamline; "
        "print(sorted({'matplotlib', 'pandas', 'xarray'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
    assert not done.stderr
