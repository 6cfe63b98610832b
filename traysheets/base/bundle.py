"""Where the files that come with the program lie: inside an installed wheel, or at the top of the repository."""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent.parent


def bundled(folder: str) -> Path:
    """The folder `fonts` or `sample_plans`: from the wheel when it is there, else from the repository."""
    installed = _PACKAGE / "bundled" / folder
    return installed if installed.is_dir() else _PACKAGE.parent / folder
