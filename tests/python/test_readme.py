"""The README's Python runs as it stands."""

import pathlib
import re


def test_the_python_block_runs(capsys):
    readme = pathlib.Path(__file__).parents[2] / "README.md"
    (block,) = re.findall(r"```python\n(.*?)```", readme.read_text("utf-8"), re.DOTALL)
    exec(compile(block, str(readme), "exec"), {})
    soft, landed = capsys.readouterr().out.splitlines()
    assert "land softly on" in soft
    assert landed.startswith("caught")
