"""What all rows share: how large and how often to measure, jobs laid ready, and folders that are cleared."""

import sys
import tempfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from measure import Figures, once

READY_S = 300.0
"""A job that is not laid ready by then never will be."""


@dataclass(frozen=True)
class Bench:
    """One run of the bench. `size` is `tiny`, `quick` or `full`; a command that takes over `limit_s` is stopped."""

    size: str
    folder: Path
    rounds: int
    limit_s: float
    laid: dict[tuple[str, int, int], Path] = field(default_factory=dict)

    def pick(self, tiny: int, quick: int, full: int) -> int:
        """The number for the size of this run."""
        return {"tiny": tiny, "quick": quick, "full": full}[self.size]

    def ready(self, kind: str, number: int, each: int) -> Path:
        """The folder of a job, laid ready once. Raises NotMeasuredError when that fails."""
        if (kind, number, each) not in self.laid:
            folder = Path(tempfile.mkdtemp(dir=self.folder))
            command = [sys.executable, "ready.py", kind, str(number), str(each), str(folder)]
            once(command, READY_S)
            self.laid[kind, number, each] = folder
        return self.laid[kind, number, each]

    def drawn(
        self, start: Callable[[Path], Sequence[str]], *, tree: bool = False, check: Path | None = None
    ) -> Figures:
        """One run of a command that leaves PDF files in a new folder; told are their `bytes` and how many `files`.

        Where there is a job to `check` the one file against, told is also what is `wrong` with it.
        """
        with tempfile.TemporaryDirectory(dir=self.folder) as name:
            figures = once(start(Path(name)), self.limit_s, tree=tree)
            files = sorted(Path(name).glob("*.pdf"))
            told = figures.told | {"bytes": sum(file.stat().st_size for file in files), "files": len(files)}
            if check:
                command = [sys.executable, "alike.py", str(check / "job.json"), *map(str, files)]
                told |= once(command, self.limit_s).told
        return replace(figures, told=told)
