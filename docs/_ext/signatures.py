"""Signatures with their types, from the stub: a compiled module tells names and defaults only."""

import ast
import inspect
import re
from functools import cache
from pathlib import Path

import loamline
from sphinx.application import Sphinx


_MARKED = re.compile(r"(?<!`)`([^`]+)`(?!`)(\w?)")


@cache
def _stub() -> dict[str, ast.FunctionDef]:
    """Reads the stub; returns its functions and methods by dotted name."""
    tree = ast.parse(Path(loamline.__file__).with_name("_native.pyi").read_text("utf-8"))
    found = {}
    for node in tree.body:
        if isinstance(node, ast.FunctionDef):
            found[node.name] = node
        if isinstance(node, ast.ClassDef):
            inner = (n for n in node.body if isinstance(n, ast.FunctionDef))
            found |= {f"{node.name}.{n.name}": n for n in inner}
    return found


def _typed(app, what, name, obj, options, signature, returned):
    """Puts the stub's signature in the place of the compiled one."""
    short = name.removeprefix("loamline.")
    node = _stub().get(f"{short}.__new__" if what == "class" else short)
    if node is None:
        # A class that is made by others has no signature to show.
        return ("", None) if what == "class" else None
    if what in ("property", "attribute"):
        return None
    if node.args.args and node.args.args[0].arg in ("self", "cls"):
        node = ast.FunctionDef(**{**vars(node), "args": _without_first(node.args)})
    result = None if what == "class" or node.returns is None else _plain(ast.unparse(node.returns))
    return _plain(f"({ast.unparse(node.args)})"), result


def _without_first(args: ast.arguments) -> ast.arguments:
    return ast.arguments(**{**vars(args), "args": args.args[1:]})


def _plain(text: str) -> str:
    """Says private aliases of the stub in words."""
    for alias, word in {"_Array": "ndarray", "_Triple": "ArrayLike", "_Words": "ndarray", "_Path": "PathLike"}.items():
        text = text.replace(alias, word)
    return text.replace("_Brake", "Brake").replace("_Progress", "Progress").replace("_Span", "tuple")


def _code(app, what, name, obj, options, lines):
    """Docstrings put code between single marks; here that takes double ones."""
    lines[:] = [_MARKED.sub(lambda m: f"``{m[1]}``" + (f"\\ {m[2]}" if m[2] else ""), line) for line in lines]


def _whole(app, what, name, obj, options, lines):
    """A property's first sentence is a sentence, also where it has a colon: no type stands before that."""
    if what in ("property", "attribute"):
        lines[:] = [*(inspect.getdoc(obj) or "").splitlines(), ""]
        _code(app, what, name, obj, options, lines)


def setup(app: Sphinx) -> dict[str, bool]:
    """Connects to autodoc, before its docstrings are parsed."""
    app.connect("autodoc-process-docstring", _code, priority=400)
    app.connect("autodoc-process-docstring", _whole, priority=600)
    app.connect("autodoc-process-signature", _typed)
    return {"parallel_read_safe": True}
