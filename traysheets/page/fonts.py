"""Fonts at hand: font files that a plan names for scripts that the built-in faces lack.

A set of fonts is a value, and which set is at hand holds for as long as `with_fonts` lasts, in the thread that says so.
What is remembered about texts is kept apart by set (`remembered`), so jobs with other fonts in one process do not mix.
A variable font takes the weight and width of the face it stands in for; else the file that comes nearest is taken.
Reads the files with HarfBuzz, which is an extra: without it no font is at hand. How texts are set is `page/shaping.py`.
"""

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from struct import unpack_from
from types import ModuleType
from typing import ParamSpec, TypeAlias, TypeVar, cast

from traysheets.base.bundle import bundled
from traysheets.base.errors import Problem, SheetError
from traysheets.page.faces import FACES, STYLES

P = ParamSpec("P")
T = TypeVar("T")

EXTRA = "in your copy of traysheets: pip install '.[scripts]'"
"""What brings the extra that names in other scripts need."""

_BOLD = 600
"""Weight from which a font counts as bold."""
_CONDENSED = 90
"""Width below which a font counts as condensed, on the scale of `wdth`."""
_PERCENT_OF_CLASS = (100, 50, 62.5, 75, 87.5, 100, 112.5, 125, 150, 200)
"""What the width classes of OpenType mean on that scale; class 0 does not occur."""
_NOT_TO_BE_EMBEDDED = 0x0002
_OUTLINES = frozenset({"glyf", "CFF ", "CFF2"})
"""Tables of outlines; a font of coloured pictures alone has none, and would print as nothing."""


@dataclass(frozen=True, slots=True)
class FontFile:
    """A font: its file, its number in a collection, and when and how large the file was, so that a new one is read."""

    path: str
    number: int = 0
    changed_ns: int = 0
    size: int = 0


Fonts: TypeAlias = tuple[FontFile, ...]
"""A set of fonts, in the order in which they are asked for a character."""


@dataclass(frozen=True, slots=True)
class Typeface:
    """A font in one weight and width: its file, and the place on each of its axes, if it has any."""

    file: FontFile
    axes: tuple[tuple[str, float], ...] = ()


_at_hand: ContextVar[Fonts] = ContextVar("fonts at hand", default=())


def fonts_at_hand() -> Fonts:
    """The fonts that are asked for what the built-in faces lack."""
    return _at_hand.get()


@contextmanager
def with_fonts(fonts: Fonts) -> Iterator[None]:
    """Have these fonts at hand, instead of others, until the block ends. Pages must be drawn inside it."""
    token = _at_hand.set(fonts)
    try:
        yield
    finally:
        _at_hand.reset(token)


def remembered(maxsize: int) -> Callable[[Callable[P, T]], Callable[P, T]]:
    """Keep the last results of a function that depends on the fonts at hand, apart for each set of fonts."""

    def keep(function: Callable[P, T]) -> Callable[P, T]:
        @lru_cache(maxsize=maxsize)
        def kept(_fonts: Fonts, *args: P.args, **kwargs: P.kwargs) -> T:
            return function(*args, **kwargs)

        def ask(*args: P.args, **kwargs: P.kwargs) -> T:
            return kept(_at_hand.get(), *args, **kwargs)  # type: ignore[arg-type]

        ask.__doc__, ask.__name__ = function.__doc__, function.__name__
        return ask

    return keep


def font_files(paths: Iterable[str]) -> Fonts:
    """The fonts of files. Of a collection the first is taken, or that whose number from 0 stands after a `#`.

    Raises SheetError with every file that is no font we can use. Without HarfBuzz there are none.
    """
    if not harfbuzz():
        return ()
    problems: list[Problem] = []
    fonts: list[FontFile] = []
    for path in dict.fromkeys(paths):
        try:
            fonts.append(_font_file(path))
        except SheetError as error:
            problems += error.problems
    if problems:
        raise SheetError(problems)
    return tuple(fonts)


def parted(path: str) -> tuple[str, int]:
    """The path of a font file and its number in a collection: `noto.ttc#2` is the third in `noto.ttc`."""
    file, mark, number = path.rpartition("#")
    return (file, int(number)) if mark and number.isdecimal() and number.isascii() else (path, 0)


def _font_file(path: str) -> FontFile:
    file, number = parted(path)
    try:
        status = Path(file).stat()
        font = FontFile(file, number, status.st_mtime_ns, status.st_size)
        _proved(font)
    except OSError as error:
        raise SheetError(f"the font file {file} cannot be read: {error.strerror}") from None
    return font


def _proved(font: FontFile) -> None:
    """Raise SheetError for a file that is no font, or one that is not to be put into files (OpenType, OS/2 fsType)."""
    face = _face(font)
    if not face.unicodes or _OUTLINES.isdisjoint(face.table_tags):
        raise SheetError(f"the file {font.path} is no TrueType or OpenType font with outlines of characters in it")
    if _of_os2(font, 8) & 0x000F == _NOT_TO_BE_EMBEDDED:
        raise SheetError(f"the maker of the font {font.path} does not allow it to be put into files; name another one")


def harfbuzz() -> ModuleType | None:
    """HarfBuzz, or None where the extra is not installed."""
    try:
        import uharfbuzz
    except ImportError:
        return None
    return cast("ModuleType", uharfbuzz)


@lru_cache(maxsize=32)
def _face(font: FontFile):  # type: ignore[no-untyped-def]
    """The font as HarfBuzz has read it."""
    hb = harfbuzz()
    assert hb, "asked for only where HarfBuzz is"
    return hb.Face(hb.Blob(Path(font.path).read_bytes()), font.number)


@lru_cache(maxsize=64)
def instance(typeface: Typeface):  # type: ignore[no-untyped-def]
    """A typeface for HarfBuzz to shape with; lengths are in units of its em."""
    hb = harfbuzz()
    assert hb, "asked for only where HarfBuzz is"
    font = hb.Font(_face(typeface.file))
    if typeface.axes:
        font.set_variations(dict(typeface.axes))
    return font


@lru_cache(maxsize=32)
def characters(font: FontFile) -> frozenset[int]:
    """The code points that a font has a glyph for."""
    return frozenset(_face(font).unicodes)


@lru_cache(maxsize=32)
def family(font: FontFile) -> str:
    """The name of the family, as the font gives it (names 16 and 1 of OpenType); empty where it is not known."""
    face = _face(font)
    return str(face.get_name(16) or face.get_name(1) or "")


@lru_cache(maxsize=256)
def typefaces(face: str, fonts: Fonts) -> tuple[Typeface, ...]:
    """What sets a text of a face, in the order to be asked: the face itself, then the fonts, those like it first."""
    own = FontFile(str(bundled("fonts") / FACES[face]))
    others = sorted(fonts, key=lambda font: _unlike(font, *STYLES[face]))
    return (Typeface(own), *(Typeface(font, _axes(font, face)) for font in others))


def _unlike(font: FontFile, weight: int, width: int) -> tuple[bool, bool]:
    """Whether a font is bold where it should not be, or the other way round; and the same of its width."""
    axes = {axis.tag for axis in _face(font).axis_infos}
    own_weight = weight if "wght" in axes else _of_os2(font, 4)
    own_width = width if "wdth" in axes else _PERCENT_OF_CLASS[min(_of_os2(font, 6), 9)]
    return (own_weight >= _BOLD) != (weight >= _BOLD), (own_width < _CONDENSED) != (width < _CONDENSED)


def _of_os2(font: FontFile, place: int) -> int:
    """A number of the table OS/2: at 4 the weight, at 6 the class of width, at 8 what is allowed; 0 without one."""
    table = _face(font).reference_table("OS/2").data
    return int(unpack_from(">H", table, place)[0]) if len(table) >= place + 2 else 0


def _axes(font: FontFile, face: str) -> tuple[tuple[str, float], ...]:
    """Where on the axes of a font a face lies, as far as they go."""
    wanted = dict(zip(("wght", "wdth"), STYLES[face], strict=True))
    infos = {axis.tag: axis for axis in _face(font).axis_infos}
    return tuple(
        (tag, min(max(place, infos[tag].min_value), infos[tag].max_value))
        for tag, place in wanted.items()
        if tag in infos
    )
