"""One target under a coverage-guided fuzzer, which keeps inputs that reach further: `python -m tests.fuzz --guided 60`.

Only the modules of traysheets are watched for what they reach. Targets whose inputs are no bytes are drawn from bytes.
"""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

import atheris

with atheris.instrument_imports(include=["traysheets"]):
    from fuzz.inputs import TARGETS

    import traysheets.cli.book_command
    import traysheets.cli.check_command
    import traysheets.cli.make_command  # noqa: F401

from fuzz import seeds
from fuzz.watch import MIB
from hypothesis import given, settings

_GOOD = {"toml": seeds.PLAN, "check": seeds.PLAN, "csv": seeds.TABLE, "settings": seeds.SETTINGS}


def main(name: str, seconds: str, folder: str) -> None:
    """Fuzz until the time is over, or a fault is found."""
    _, target, strategy = TARGETS[name]
    if name in _GOOD:
        Path(folder, "good").write_text(_GOOD[name], encoding="utf-8")
        dictionary = Path(folder).parent / f"{name}.dict"
        words = [scrap.encode("utf-8", "surrogatepass") for scrap in seeds.SCRAPS if 0 < len(scrap) < 60]
        lines = ['"' + "".join(f"\\x{byte:02x}" for byte in word) + '"' for word in words]
        dictionary.write_text("\n".join(lines) + "\n", encoding="ascii")
        more = [f"-dict={dictionary}", "-max_len=6000"]
        run = target
    else:
        more = ["-max_len=4000"]
        run = settings(deadline=None, database=None)(given(strategy)(target)).hypothesis.fuzz_one_input
    flags = [
        f"-max_total_time={seconds}",
        "-timeout=30",
        f"-rss_limit_mb={2 * MIB}",
        "-print_final_stats=1",
        "-verbosity=0",
    ]
    atheris.Setup(
        [sys.argv[0], folder, *flags, *more, f"-artifact_prefix={folder}/fault-"], lambda data: run(data) and None
    )
    atheris.Fuzz()


if __name__ == "__main__":
    main(*sys.argv[1:4])
