"""Any Latin, Greek or Cyrillic text in the 45 characters that a QR code packs tightest.

What is owned: how a letter is written with A to Z. What a code says is decided in `links.py`.
"""

import unicodedata

ALPHANUMERIC = frozenset("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:")
"""The alphanumeric set of ISO/IEC 18004."""

# Common romanisations in bare capitals, one way for each letter, for reading and not for turning back.
_ROMANISED = (
    "Æ=AE Œ=OE Ø=O Þ=TH Ð=D Đ=D Ł=L Ħ=H Ŋ=NG Ŧ=T ẞ=SS Ə=E Ɓ=B Ɗ=D Ƙ=K "
    "Α=A Β=V Γ=G Δ=D Ε=E Ζ=Z Η=I Θ=TH Ι=I Κ=K Λ=L Μ=M Ν=N Ξ=X Ο=O Π=P Ρ=R Σ=S Τ=T Υ=Y Φ=F Χ=CH Ψ=PS Ω=O "
    "А=A Б=B В=V Г=G Д=D Е=E Ж=ZH З=Z И=I К=K Л=L М=M Н=N О=O П=P Р=R С=S Т=T У=U Ф=F Х=KH Ц=TS Ч=CH Ш=SH "
    "Щ=SHCH Ъ= Ы=Y Ь= Э=E Ю=YU Я=YA Є=IE І=I Ґ=G Ј=J Љ=LJ Њ=NJ Ћ=C Ђ=DJ Џ=DZ Ѕ=DZ Ғ=G Қ=Q Ң=NG Ө=O Ү=U Ұ=U Һ=H "
    "×=X –=- —=- ‐=- ‑=- ·=. ,=. ’= '= ‘= “= ”= «= »="
)
_PLAIN = dict(pair.split("=") for pair in _ROMANISED.split())


def plain_letters(text: str) -> str:
    """The text in `ALPHANUMERIC` characters alone, runs of blanks made one; what has no like there becomes a blank."""
    capitals = unicodedata.normalize("NFC", text).upper()
    return " ".join("".join(_plain(letter) for letter in capitals).split())


def _plain(letter: str) -> str:
    if letter in ALPHANUMERIC:
        return letter
    if letter in _PLAIN:
        return _PLAIN[letter]
    if unicodedata.combining(letter):
        return ""
    base = "".join(part for part in unicodedata.normalize("NFKD", letter) if not unicodedata.combining(part))
    if base != letter:
        return "".join(_plain(part) for part in base.upper())
    return " "
