"""Which language a page speaks: the one chosen on this phone, else the one its browser asks for, else the book's.

A choice is kept in a cookie of its own, so that it holds for whoever reads without signing in too. The way to choose is
a plain link, and needs no script.
"""

from dataclasses import dataclass
from functools import cache
from urllib.parse import quote

from babel import Locale
from flask import Blueprint, current_app, g, redirect, request
from werkzeug.exceptions import HTTPException
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


def speech() -> Speech:
    """The speech of this request."""
    if "speech" not in g:
        g.speech = speech_for(_language())
    found: Speech = g.speech
    return found


def _language() -> str:
    for chosen in (asked_anew(), request.cookies.get(COOKIE)):
        if chosen in languages():
            return str(chosen)
    # RFC 9110, 12.5.4; the book's own first, as `*` takes whatever comes first.
    usual = str(current_app.extensions["site"].language)
    return request.accept_languages.best_match([usual, *languages()]) or usual


def asked_anew() -> str | None:
    """The language that a page which answers a form is to be shown in instead; nothing is written for that."""
    code = _sent("speak")
    return code if code in languages() else None


def _sent(field: str) -> str:
    """A field of the form that was sent, empty when there is none."""
    try:
        return request.form.get(field, "")
    except HTTPException:  # more was sent than is read
        return ""


def here() -> str:
    """The way back to this page; from one that answers a form, to where the form was."""
    if request.method == "POST":
        return f"/sign-in?next={quote(own_path(_sent('next')), safe='')}" if request.path == "/sign-in" else "/"
    return request.full_path.rstrip("?")


@blueprint.after_app_request
def remember(answer: Response) -> Response:
    """Keep the language that was chosen on the answer to a form."""
    if code := asked_anew():
        _keep(answer, code)
    return answer


@blueprint.get("/language")
def choose() -> Response:
    """Remember a language on this phone, and go back to the page."""
    answer = redirect(own_path(request.args.get("next", "/")), 303)
    code = request.args.get("to", "")
    if code in languages():
        _keep(answer, code)
    return answer


def _keep(answer: Response, code: str) -> None:
    answer.set_cookie(COOKIE, code, max_age=_A_YEAR_SECONDS, httponly=True, samesite="Lax")
