"""The two style sheets and the two scripts: the only files, served by ourselves, as nothing comes from outside."""

from pathlib import Path

from flask import Blueprint, Response, request

from traysheets.export.html import STYLE, stylesheet

blueprint = Blueprint("static", __name__)
_FOLDER = Path(__file__).parent / "static"
_TYPES = {"bench.css": "text/css", "keep.js": "text/javascript", "form.js": "text/javascript"}
OPEN = ("static.style", "static.file", "static.robots")
"""What anybody may have: it tells nothing of the book."""


@blueprint.get(f"/static/{STYLE}")
def style() -> Response:
    """The style sheet that the record pages have too."""
    return _file(stylesheet(), "text/css")


@blueprint.get('/static/<any("bench.css", "keep.js", "form.js"):name>')
def file(name: str) -> Response:
    """What is for phones only."""
    return _file((_FOLDER / name).read_text(encoding="utf-8"), _TYPES[name])


@blueprint.get("/robots.txt")
def robots() -> Response:
    """Not for search engines."""
    return _file("User-agent: *\nDisallow: /\n", "text/plain")


def _file(text: str, content_type: str) -> Response:
    """A file that is asked for again only by its tag (RFC 9110, 8.8.3 and 13.1.2)."""
    response = Response(text, mimetype=content_type)
    response.headers["Cache-Control"] = "no-cache"
    response.add_etag()
    response.make_conditional(request.environ)
    return response
