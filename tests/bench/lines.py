"""The lines of the table, how their figures are said, and the table as Markdown."""

from dataclasses import astuple, dataclass

from measure import Figures, Measured, NotMeasuredError


@dataclass(frozen=True)
class Line:
    """A line of the table; `beside` is the ratio to what it is compared with."""

    what: str
    by: str
    time: str = ""
    cpu: str = ""
    memory: str = ""
    size: str = ""
    beside: str = ""
    reach: str = ""


def line(what: str, by: str, figures: Figures, size: str = "", beside: str = "", reach: str = "") -> Line:
    """A line with the figures of one run."""
    cpu = said_seconds(figures.cpu_seconds) if figures.cpu_seconds else ""
    return Line(what, by, said_seconds(figures.seconds), cpu, f"{figures.mib:.0f} MiB", size, beside, reach)


def said_seconds(seconds: float) -> str:
    """Seconds to three figures or so."""
    return f"{seconds * 1000:.0f} ms" if seconds < 0.1 else f"{seconds:.2f} s" if seconds < 10 else f"{seconds:.1f} s"


def said_bytes(size: float, what: str) -> str:
    """The size of one thing."""
    return f"{size:.0f} B a {what}" if size < 1024 else f"{size / 1024:.1f} KiB a {what}"


def said_ratio(figures: Figures, other: Measured) -> str:
    """The time as a ratio to that of another run, and that of the processors, where there are figures of both."""
    if isinstance(other, NotMeasuredError):
        return ""
    cpu = f", CPU {figures.cpu_seconds / other.cpu_seconds:.2f} x" if figures.cpu_seconds and other.cpu_seconds else ""
    return f"{figures.seconds / other.seconds:.2f} x{cpu}"


def table(lines: list[Line]) -> str:
    """The lines as a Markdown table, its columns aligned."""
    rows = [astuple(line) for line in lines]
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    said = ["| " + " | ".join(map(str.ljust, row, widths)) + " |" for row in rows]
    return "\n".join([said[0], "|" + "|".join("-" * (width + 2) for width in widths) + "|", *said[1:]])
