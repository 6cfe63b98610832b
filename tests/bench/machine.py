"""What the figures were taken on: the kind of machine and the versions of what was run, and no names."""

import os
import platform
import shutil
import subprocess
import sys
from functools import cache
from importlib.metadata import PackageNotFoundError, version


def machine() -> str:
    """The kind of machine, in one line."""
    cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count()
    return (
        f"{cores} cores ({_processor()}, {platform.machine()}), {platform.system()}, "
        f"{platform.python_implementation()} {platform.python_version()}"
    )


def _processor() -> str:
    """The family of the processor."""
    try:
        with open("/proc/cpuinfo", encoding="utf-8") as file:
            names = [line.partition(":")[2].strip() for line in file if line.startswith("model name")]
    except OSError:
        names = []
    return names[0] if names else platform.processor() or "unknown processor"


@cache
def package_version(package: str) -> str | None:
    """The version of an installed package that can be imported; None when there is none, or it lacks a library."""
    try:
        found = version(package)
    except PackageNotFoundError:
        return None
    done = subprocess.run([sys.executable, "-c", f"import {package}"], capture_output=True)
    return None if done.returncode else found


@cache
def program_version(program: str) -> str | None:
    """The version of a program on the path, the last but for remarks of what it says with --version; None without."""
    if not shutil.which(program):
        return None
    said = subprocess.run([program, "--version"], capture_output=True, text=True).stdout.split()
    return next((word for word in said if word[:1].isdigit()), "")
