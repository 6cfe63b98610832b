"""The web application: which rules hold for every request and every answer, and what is said when something is wrong.

HTTP as RFC 9110 and cookies as RFC 6265 have it; what browsers are told to refuse is in `HEADERS`.
"""

import math
from datetime import timedelta

from flask import Flask, Response, redirect, render_template, request
from werkzeug.exceptions import HTTPException

from traysheets.base import limits
from traysheets.base.errors import BookError, TraysheetsError
from traysheets.serve import pages, static, tongue, writing
from traysheets.serve.access import Access, from_elsewhere, token
from traysheets.serve.site import Site, without_folder
from traysheets.serve.telling import FILTERS
from traysheets.serve.tongue import here, speech, tongues

HEADERS = {
    "Content-Security-Policy": (
        "default-src 'self'; img-src 'self' data:; object-src 'none'; base-uri 'none'; form-action 'self';"
        " frame-ancestors 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    # Nothing is told to others; our own forms say where they come from, which `no-referrer` would hide.
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "X-Robots-Tag": "noindex",
}

OPEN = (*static.OPEN, "tongue.choose", "pages.sign_in", "writing.sign_in")
"""What anybody may have of a book that is closed: none of it tells of the book."""

SAID = {
    400: ("bench.unreadable", "bench.back"),
    403: ("bench.not_allowed", "bench.not_allowed_how"),
    404: ("bench.no_page", "bench.no_page_how"),
    405: ("bench.not_so", "bench.back"),
    413: ("bench.too_much", "bench.too_much_how"),
    421: ("bench.other_name", "bench.other_name_how"),
    429: ("bench.too_often", "bench.too_often_how"),
}
FOREIGN = ("bench.foreign", "bench.foreign_how")
_OTHERWISE = ("bench.did_not_work", "bench.back")
_SAFE = ("GET", "HEAD", "OPTIONS")


def create_app(site: Site, access: Access) -> Flask:
    """The application that serves a site by these rules of access."""
    app = Flask(__name__, static_folder=None)
    app.config.update(
        SECRET_KEY=access.secrets.signing,
        MAX_CONTENT_LENGTH=limits.MOST_BYTES_SENT,
        MAX_FORM_MEMORY_SIZE=limits.MOST_BYTES_SENT,
        MAX_FORM_PARTS=50,
        SESSION_COOKIE_NAME="traysheets",
        SESSION_COOKIE_HTTPONLY=True,
        SESSION_COOKIE_SAMESITE="Lax",
        SESSION_REFRESH_EACH_REQUEST=False,
        PERMANENT_SESSION_LIFETIME=timedelta(days=30),
    )
    app.extensions["site"], app.extensions["access"] = site, access
    app.jinja_env.trim_blocks = app.jinja_env.lstrip_blocks = True
    app.jinja_env.filters.update(FILTERS)
    app.url_map.strict_slashes = False
    for part in (static.blueprint, tongue.blueprint, pages.blueprint, writing.blueprint):
        app.register_blueprint(part)
    _rules(app, site, access)
    _words(app, site, access)
    _problems(app, site)
    return app


def _rules(app: Flask, site: Site, access: Access) -> None:
    """What is looked at before any request, and what every answer bears."""

    @app.before_request
    def admit() -> Response | tuple[str, int, dict[str, str]] | None:
        if "Host" not in request.headers:  # RFC 9112, 3.2
            return _page(400)
        if not access.answers_to(request.host):
            return _page(421)
        if wait := access.seconds_to_wait(site.seconds()):
            return _page(429, {"Retry-After": str(math.ceil(wait))})
        if request.method not in _SAFE and from_elsewhere():
            return _page(403, said=FOREIGN)
        if request.endpoint in (None, *OPEN) or access.may_read():
            return None
        # What was typed into a form is not thrown away: it is asked for the pass phrase with the form, in `writing`.
        if request.method == "POST":
            return None
        return redirect(pages.sign_in_path(request.full_path.rstrip("?")), 303)  # type: ignore[return-value]

    @app.after_request
    def guarded(response: Response) -> Response:
        for name, value in HEADERS.items():
            response.headers.setdefault(name, value)
        response.headers.setdefault("Cache-Control", "no-store")
        if response.mimetype == "text/html":
            response.headers.setdefault("Content-Language", speech().language)
            response.vary.update(("Accept-Language", "Cookie"))
        return response


def _words(app: Flask, site: Site, access: Access) -> None:
    """What every page may speak of."""
    lasting = {"site": site, "access": access, "token": token, "tongues": tongues(), "limits": limits}
    app.context_processor(lambda: lasting | {"say": speech(), "here": here()})


def _problems(app: Flask, site: Site) -> None:
    """What is said when something is wrong."""

    @app.errorhandler(HTTPException)
    def wrong(error: HTTPException) -> tuple[str, int, dict[str, str]]:
        kept = {name: value for name, value in error.get_headers() if name in ("Allow", "Retry-After")}
        return _page(error.code or 500, kept)

    @app.errorhandler(TraysheetsError)
    def unusable(error: TraysheetsError) -> tuple[str, int, dict[str, str]]:
        return _book_page(site, error)


def _page(
    status: int, headers: dict[str, str] | None = None, said: tuple[str, str] | None = None
) -> tuple[str, int, dict[str, str]]:
    say = speech()
    heading, text = said or SAID.get(status, _OTHERWISE)
    texts = [say.one(say(text, most=limits.MOST_LETTERS_IN_REMARK))]
    return render_template("problem.html", heading=say(heading), texts=texts), status, headers or {}


def _book_page(site: Site, error: TraysheetsError) -> tuple[str, int, dict[str, str]]:
    """The book cannot be used now: what is wrong with it, without telling where on the computer it is."""
    say = speech()
    texts = [*say.all("bench.no_book_how"), *say.problems(without_folder(error, site.book).problems)]
    heading = say("bench.no_book" if isinstance(error, BookError) else "bench.did_not_work")
    return render_template("problem.html", heading=heading, texts=texts), 503, {"Retry-After": "10"}
