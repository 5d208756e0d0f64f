"""A terminal for commands that look whether they write to one."""

import os
import subprocess
import sys


def on_a_terminal(*arguments, stdout=None, timeout=60, **environment):
    """Return a command's exit code, and what it writes to a terminal: both streams, or standard error alone."""
    ours, theirs = os.openpty()
    command = [sys.executable, "-m", "loamline.cli", *map(str, arguments)]
    streams = {"stdout": theirs if stdout is None else stdout, "stderr": theirs}
    with subprocess.Popen(command, env={**os.environ, **environment}, **streams) as work:
        os.close(theirs)
        told = b""
        while True:
            try:
                told += os.read(ours, 4096)
            except OSError:
                break
        code = work.wait(timeout=timeout)
    os.close(ours)
    return code, told
