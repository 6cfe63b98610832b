"""Bringing names to the disk, so that they outlast a loss of power. Files are synced by whoever writes them."""

import os
from contextlib import suppress
from pathlib import Path


def sync_names(folder: Path) -> None:
    """Bring the names in a folder to the disk, where a folder can be synced at all."""
    with suppress(OSError):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
