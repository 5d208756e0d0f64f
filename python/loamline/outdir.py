"""A folder that is filled whole or not at all."""

from __future__ import annotations

import os
import shutil
import tempfile
from pathlib import Path


class OutDir:
    """Collects files beside a folder and moves them in together when all are written.

    Used in a `with` block: `path(name)` gives the place to write a file to. When the block ends
    well the files are moved into the folder, over older ones of the same names; when it does not,
    by an error, Ctrl-C or a full disk, the folder is as it was before.

    Raises:
        NotADirectoryError: the folder's name, or that of one above it, is taken by a file.
        OSError: nothing can be written beside the folder.
    """

    def __init__(self, folder: str | os.PathLike[str]) -> None:
        self.folder = Path(folder).absolute()
        self._new: Path | None = None

    def __enter__(self) -> OutDir:
        # Told now, not when all is reckoned.
        for file in (p for p in (self.folder, *self.folder.parents) if p.exists() and not p.is_dir()):
            raise NotADirectoryError(f"{file}: there is a file of that name, not a folder")
        # The same file system as the folder's: only there is a move one step.
        beside = next(p for p in self.folder.parents if p.is_dir())
        self._new = Path(tempfile.mkdtemp(prefix=".loamline-", dir=beside))
        return self

    def __exit__(self, kind: object, error: object, trace: object) -> None:
        assert self._new is not None
        try:
            if kind is None:
                self._move_in()
        finally:
            shutil.rmtree(self._new, ignore_errors=True)

    def path(self, name: str) -> Path:
        """Returns where to write the file that will be called `name` in the folder."""
        assert self._new is not None
        return self._new / name

    def write(self, name: str, text: str) -> None:
        """Writes text as UTF-8 into the file that will be called `name` in the folder."""
        self.path(name).write_text(text, encoding="utf-8", newline="\n")

    def _move_in(self) -> None:
        """Moves every file in, and everything back should one of them not go."""
        assert self._new is not None
        files = sorted(p for p in self._new.iterdir() if p.is_file())
        made = [p for p in (self.folder, *self.folder.parents) if not p.exists()]
        self.folder.mkdir(parents=True, exist_ok=True)
        older = self._new / "older"
        older.mkdir()
        moved: list[Path] = []
        try:
            for file in files:
                target = self.folder / file.name
                if target.exists():
                    os.replace(target, older / file.name)
                moved.append(target)
                os.replace(file, target)
        except BaseException:
            _back(moved, older, made)
            raise


def _back(moved: list[Path], older: Path, made: list[Path]) -> None:
    for target in moved:
        target.unlink(missing_ok=True)
        if (older / target.name).exists():
            os.replace(older / target.name, target)
    for folder in made:
        folder.rmdir()
