"""Which language a page speaks: the one chosen on this phone, else the one its browser asks for, else the book's.

A choice is kept in a cookie of its own, so that it holds for whoever reads without signing in too. The way to choose is
a plain link, and needs no script.
"""

from dataclasses import dataclass
from functools import cache

from babel import Locale
from flask import Blueprint, current_app, g, redirect, request
from werkzeug.wrappers import Response

from traysheets.base.words import languages, sentence
from traysheets.serve.access import own_path
from traysheets.serve.speech import Speech, speech_for

blueprint = Blueprint("tongue", __name__)

COOKIE = "traysheets_language"
_A_YEAR_SECONDS = 365 * 24 * 3600


@dataclass(frozen=True, slots=True)
class Tongue:
    """A language to choose: its code, its own name for itself, how it is written."""

    code: str
    name: str
    direction: str


@cache
def tongues() -> tuple[Tongue, ...]:
    """The languages that there are words for, each under its own name (CLDR)."""
    locales = ((code, Locale.parse(code)) for code in languages())
    return tuple(
        Tongue(code, sentence(str(locale.get_display_name(code))), locale.text_direction) for code, locale in locales
    )


@cache
def _codes() -> tuple[str, ...]:
    return tuple(tongue.code for tongue in tongues())


def speech() -> Speech:
    """The speech of this request."""
    if "speech" not in g:
        g.speech = speech_for(_language())
    found: Speech = g.speech
    return found


def _language() -> str:
    chosen = request.cookies.get(COOKIE)
    if chosen in _codes():
        return str(chosen)
    # RFC 9110, 12.5.4; the book's own first, as `*` takes whatever comes first.
    usual = str(current_app.extensions["site"].language)
    return request.accept_languages.best_match([usual, *_codes()]) or usual


def here() -> str:
    """The way back to this page, which was asked for and not sent a form."""
    return request.full_path.rstrip("?")


@blueprint.get("/language")
def choose() -> Response:
    """Remember a language on this phone, and go back to the page."""
    answer = redirect(own_path(request.args.get("next", "/")), 303)
    code = request.args.get("to", "")
    if code in _codes():
        answer.set_cookie(COOKIE, code, max_age=_A_YEAR_SECONDS, httponly=True, samesite="Lax")
    return answer
