"""`traysheets verify FILE...`: read finished sheets back, and say whether they are whole, to scale and scannable."""

from pathlib import Path

import click

from traysheets.base.errors import FileError, Problem
from traysheets.cli import options
from traysheets.cli.console import FAILED, progress, say, show, show_json, tells_problems
from traysheets.verify.order import MOST_NAMED
from traysheets.verify.report import Part, Report
from traysheets.verify.verify import verify


@click.command()
@click.argument("files", nargs=-1, required=True, type=options.FILE, metavar="FILE...")
@click.option("--codes", is_flag=True, help="List what every QR code says, and how large it is.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object with a report of each file.")
@options.QUIET
@tells_problems
def command(files: tuple[Path, ...], codes: bool, as_json: bool, quiet: bool) -> None:
    """Read finished sheets back: whether each FILE is whole, to scale and scannable.

    Exit status 1 when something is wrong with one of them, or one cannot be read; the others are still reported.
    """
    reports: list[Report] = []
    unread: list[Problem] = []
    with progress(quiet or as_json) as tell:
        for file in files:
            try:
                reports.append(verify(file, tell))
            except FileError as error:
                unread += error.problems
    if as_json:
        told = {"files": [report.facts for report in reports], "unread": [str(problem) for problem in unread]}
        show_json(told)
    else:
        for report in reports:
            tell_report(report, codes=codes, quiet=quiet)
    if unread:
        raise FileError(unread)
    if not all(report.is_good for report in reports):
        raise SystemExit(FAILED)


def tell_report(report: Report, *, codes: bool, quiet: bool) -> None:
    """The facts of a file to stdout, what is wrong or odd with it to stderr."""
    if not quiet:
        show("\n".join(lines(report)))
    if codes:
        for code in report.codes:
            show(f"  page {code.page}: {code.module_mm:.2f} mm, level {code.level}: {code.text}")
    pages: dict[tuple[str, bool], list[int]] = {}
    for finding in report.findings:
        pages.setdefault((finding.text, finding.wrong), []).extend([finding.page] if finding.page else [])
    for (text, wrong), found in pages.items():
        if wrong or not quiet:
            say(f"{report.file}{_on(found)}: {text}", fg="red" if wrong else "yellow")
    if not quiet:
        for unchecked in report.unchecked:
            say(f"{report.file}: {unchecked}")


def _on(pages: list[int]) -> str:
    """Where something was found: `, page 3`, `, pages 3, 4 and 9`, `, 180 pages from page 2 on`."""
    if len(pages) <= 1:
        return "".join(f", page {page}" for page in pages)
    if len(pages) > MOST_NAMED:
        return f", {len(pages)} pages from page {pages[0]} on"
    return f", pages {', '.join(map(str, pages[:-1]))} and {pages[-1]}"


def lines(report: Report) -> list[str]:
    """What was found, in a few lines."""
    pages = "" if report.pages is None else f", {report.pages} {'page' if report.pages == 1 else 'pages'}"
    told = [f"{report.file}: made by {report.made_by}{pages}" if report.made_by else report.file]
    for part in Part:
        answer = report.answer(part)
        if answer is None:
            told.append(f"  {part}: not known")
        else:
            told.append(f"  {part}: yes{_proof(report, part)}" if answer else f"  {part}: no")
        if part is Part.SCALE and report.corrected:
            made = ", on other pages ".join(_longer(*sides) for sides in report.corrected)
            told.append(f"  corrected for a printer: {made}; print it on that one only")
    return told


def _longer(across: float, down: float) -> str:
    """How much longer or shorter than true a page is made: `0.6 % longer across, 0.7 % shorter down`."""
    sides = {"across": across, "down": down}
    return ", ".join(
        f"{abs(share - 1) * 100:.2g} % {'longer' if share > 1 else 'shorter'} {side}"
        for side, share in sides.items()
        if share != 1
    )


def _proof(report: Report, part: Part) -> str:
    """What a yes rests on, as far as there is something to say."""
    if part is Part.WHOLE:
        return ", every byte as it was written" if report.as_written else ""
    if part is Part.SCALE:
        sizes = ", ".join(f"{width:g} x {height:g} mm" for width, height in report.sizes_mm)
        bars = [length for _, length in report.bars_mm]
        ends = dict.fromkeys(f"{length:.2f}" for length in (min(bars, default=0), max(bars, default=0)))
        measured = f"; the 50 mm bar measures {' to '.join(ends)} mm" if bars else ""
        return f", {sizes}{measured}"
    if not report.codes:
        return ", there are no QR codes"
    least = min(code.module_mm for code in report.codes)
    codes = "1 QR code" if len(report.codes) == 1 else f"{len(report.codes)} QR codes"
    return f", {codes} read, modules of {least:.2f} mm or more"
