"""Tables that the pages take from what is there: the keys of a site file from its schema, the commands' own help."""

import io
import json
import os
import re
from contextlib import redirect_stdout, suppress
from pathlib import Path
from typing import Any

import loamline as ll
from loamline import cli
from sphinx.application import Sphinx

# The order in which a site file is written; a table that is not named here comes last.
_TABLES = tuple("site air survey run_in wall lip drop ride riders soil barrows landing mark".split())


def help_of(command: str) -> str:
    """Returns what `loamline COMMAND --help` prints on a page of 88 columns."""
    said = io.StringIO()
    os.environ["COLUMNS"] = "88"
    with redirect_stdout(said), suppress(SystemExit):
        cli.main([*command.split(), "--help"])
    # Colour is for terminals.
    return re.sub(r"\x1b\[[0-9;]*m", "", said.getvalue())


def commands() -> str:
    """Returns a section for each command that there is, with its own help."""
    # As the help has them: four spaces before a command, more before what goes on about it.
    names = re.findall(r"^ {4}(\w+)(?:  |$)", help_of(""), re.MULTILINE)
    return "\n".join(f"## {name}\n\n```text\n{help_of(name)}```\n" for name in names)


def site_keys() -> str:
    """Returns every key of a site file, a table for each of its tables."""
    schema = json.loads(ll.site_schema())
    known, defined = schema["properties"], schema["$defs"]
    order = [t for t in _TABLES if t in known] + sorted(set(known) - set(_TABLES) - {"version"})
    parts = [_part(name, known[name], defined, name in schema["required"]) for name in order]
    inner = _inner(defined)
    return "\n".join([*parts, *inner])


def _resolve(node: dict[str, Any], defined: dict[str, Any]) -> dict[str, Any]:
    """Follows a reference; what stands beside it has the last word."""
    while "$ref" in node:
        node = {**defined[node["$ref"].rsplit("/", 1)[1]], **{k: v for k, v in node.items() if k != "$ref"}}
    return node


def _part(name: str, node: dict[str, Any], defined: dict[str, Any], required: bool) -> str:
    """Returns one table of the file with its keys."""
    node = _resolve(node, defined)
    many = node.get("type") == "array"
    table = _resolve(node["items"], defined) if many else node
    head = f"## `[[{name}]]`" if many else f"## `[{name}]`"
    need = " Has to be there." if required else ""
    return f"{head}\n\n{_whole(node.get('description', table.get('description', '')))}{need}\n\n{_rows(table, defined)}"


def _rows(table: dict[str, Any], defined: dict[str, Any]) -> str:
    rows = ["| key | what it is | unit | values |", "|---|---|---|---|"]
    required = table.get("required", [])
    for key, node in table.get("properties", {}).items():
        node = _resolve(node, defined)
        star = " *" if key in required else ""
        unit = _resolve(node.get("items", {}), defined).get("x-unit", "") if "items" in node else node.get("x-unit", "")
        rows.append(f"| `{key}`{star} | {_whole(node.get('description', ''))} | {unit} | {_values(node, defined)} |")
    return "\n".join(rows) + "\n"


def _whole(text: str) -> str:
    return text.replace("\n", " ").replace("|", "\\|")


def _values(node: dict[str, Any], defined: dict[str, Any]) -> str:
    """Says which values may stand there."""
    if "enum" in node:
        return ", ".join(f"`{json.dumps(v)}`" for v in node["enum"])
    if "const" in node:
        return f"`{json.dumps(node['const'])}`"
    for choice in ("anyOf", "oneOf"):
        if choice in node:
            said = [_values(_resolve(n, defined), defined) for n in node[choice]]
            return "; or ".join(dict.fromkeys(s for s in said if s))
    kind = node.get("type", "")
    if kind == "array":
        return _list(node, defined)
    if kind == "object":
        return "a table: " + ", ".join(f"`{k}`" for k in node.get("properties", {}))
    if kind in ("number", "integer"):
        return _range(node) + (" or `inf`" if node.get("x-infinity") else "")
    return {"string": "text", "boolean": "`true` or `false`"}.get(kind, "")


def _list(node: dict[str, Any], defined: dict[str, Any]) -> str:
    of = _resolve(node.get("items", {}), defined)
    least, most = node.get("minItems"), node.get("maxItems")
    count = f"{least}" if least == most and least is not None else (f"{least} or more" if least else "any number")
    inner = _values(of, defined)
    return f"[{count}]" + (f" of: {inner}" if inner else "")


def _range(node: dict[str, Any]) -> str:
    low, high = node.get("minimum"), node.get("maximum")
    above, below = node.get("exclusiveMinimum"), node.get("exclusiveMaximum")
    parts = [f"from {low:g}" if low is not None else "", f"above {above:g}" if above is not None else ""]
    if high is not None and high < 2**31:
        parts.append(f"to {high:g}")
    if below is not None:
        parts.append(f"below {below:g}")
    return " ".join(p for p in parts if p) or "any number"


def _inner(defined: dict[str, Any]) -> list[str]:
    """Returns the tables that stand inside others, such as the rider's absorber."""
    titles = {"Absorber": "absorber", "Obstacle": "landing.obstacle", "KeepOut": "landing.keep_out", "Wind": "air.wind",
              "Piece": "pieces of a wall", "BentPiece": "pieces of a lip"}  # fmt: skip
    return [
        f"## Within: {title}\n\n{_whole(defined[name].get('description', ''))}\n\n{_rows(defined[name], defined)}"
        for name, title in titles.items()
        if "properties" in defined.get(name, {})
    ]


def _write(app: Sphinx) -> None:
    folder = Path(app.srcdir) / "_generated"
    folder.mkdir(exist_ok=True)
    texts = {"help.txt": help_of(""), "commands.md": commands(), "site-keys.md": site_keys()}
    for name, text in texts.items():
        (folder / name).write_text(text, "utf-8")


def setup(app: Sphinx) -> dict[str, bool]:
    """Writes them before the pages are read."""
    app.connect("builder-inited", _write)
    return {"parallel_read_safe": True}
