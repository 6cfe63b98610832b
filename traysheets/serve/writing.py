"""The requests that write: an entry, a correction, signing in and out. Each is answered with 303 (RFC 9110, 15.4.4).

A form that cannot be taken is shown again with all that was typed, so that nothing is lost: for the pass phrase, after
a session has ended, for another key, for a book that is held by another program.
"""

import math
from collections.abc import Sequence

from flask import Blueprint, abort, current_app, make_response, redirect, render_template, request, session
from werkzeug.wrappers import Response

from traysheets.base.errors import BookError, DoubtfulEntry, TraysheetsError
from traysheets.book.checks import check, tidied
from traysheets.book.entries import Entry, Kind, Note
from traysheets.bookkeeping import Account, note
from traysheets.serve.access import Access, own_path, token_fits
from traysheets.serve.notes import choices, is_key, new_key, read_note, striking_out
from traysheets.serve.pages import batch_page, batch_path, site
from traysheets.serve.site import without_folder
from traysheets.serve.speech import Said
from traysheets.serve.tongue import asked_anew, speech

blueprint = Blueprint("writing", __name__)

TYPED = ("kind", "number", "day", "who", "remark", "key", "strike")
"""The fields of a form that are shown again when it cannot be taken."""
CLASH = 409
"""RFC 9110, 15.5.10, Conflict: with the state of the book, where whoever sent it may resolve it and send it again."""


def access() -> Access:
    """The rules of access of the running application."""
    found: Access = current_app.extensions["access"]
    return found


@blueprint.post("/B/<code>/entries")
def add(code: str) -> Response:
    """Write an entry, or show the form again with what is wrong."""
    return _write(code, None)


@blueprint.get("/B/<code>/entries/<int(max=999999999999):number>")
def correct(code: str, number: int) -> str:
    """The form that corrects an entry, filled in with what it says."""
    account = _account(code)
    entry = _entry(account, number)
    filled = {
        "kind": entry.kind.value,
        "number": "" if entry.number is None else str(entry.number),
        "day": entry.day.isoformat(),
        "who": entry.who,
        "remark": entry.remark,
        "key": new_key(),
    }
    return _correction_page(account, entry, filled)


@blueprint.post("/B/<code>/entries/<int(max=999999999999):number>")
def corrected(code: str, number: int) -> Response:
    """Write an entry that stands in for another, or strikes it out."""
    return _write(code, number)


def _account(code: str) -> Account:
    return site().account(code) or abort(404)


def _entry(account: Account, number: int) -> Entry:
    return next((entry for entry in account.entries if entry.id == number), None) or abort(404)


def _write(code: str, number: int | None) -> Response:
    refused = _refusal()
    if refused and not access().may_read():
        return _kept(*refused)
    try:
        account = _account(code)
    except BookError as error:
        return _kept(503, _not_now(error))
    corrects = None if number is None else _entry(account, number)
    return _again(account, corrects, *refused) if refused else _write_to(account, corrects)


def _write_to(account: Account, corrects: Entry | None) -> Response:
    try:
        asked = _note(account, corrects)
    except BookError as error:
        return _again(account, corrects, 400, _sentences(error))
    if not _stored(account, asked):
        try:
            check(tidied(asked), account.batch, site().today, account.entries)
        except BookError as error:
            return _again(account, corrects, 400, _sentences(error))
    if asked_anew():
        return _again(account, corrects, 200, speech().all("bench.still_here"))
    try:
        entry = note(site().book, asked, site().today, site().now())
    except DoubtfulEntry as error:
        return _again(account, corrects, CLASH, doubts=_sentences(error))
    except BookError as error:
        # What SQLite or the disk said stands behind the error; otherwise the note clashes with what is stored.
        if error.__cause__:
            return _again(account, corrects, 503, _not_now(error))
        return _again(account, corrects, CLASH, _sentences(error), key=new_key())
    session["who"] = entry.who
    return redirect(f"{batch_path(account.batch.code)}?saved={entry.id}", 303)


def _refusal() -> tuple[int, tuple[Said, ...]] | None:
    """Why this form may not write now: its status and sentences. A right pass phrase in it opens the session."""
    say = speech()
    phrase = request.form.get("passphrase", "")
    if not (access().may_write() or phrase):
        return 403, say.all("bench.needs_passphrase")
    if not token_fits():
        return 403, say.all("bench.form_old")
    if access().may_write():
        return None
    wait = access().try_phrase(phrase, site().seconds())
    if wait is None:
        return None
    if wait:
        return 429, (_wait(wait), *say.all("bench.still_here"))
    return 403, say.all("bench.wrong_passphrase", "bench.still_here")


def _wait(seconds: float) -> Said:
    say = speech()
    return say.one(say("bench.wait", n=math.ceil(seconds)))


def _note(account: Account, corrects: Entry | None) -> Note:
    if corrects and request.form.get("strike"):
        return striking_out(account.batch.code, corrects.id, request.form, site().today)
    return read_note(account.batch.code, request.form, corrects.id if corrects else None)


def _stored(account: Account, asked: Note) -> bool:
    return any(entry.key == asked.key for entry in account.entries)


def _sentences(error: TraysheetsError) -> tuple[Said, ...]:
    """What is wrong, in the reader's language where there are words for it."""
    return speech().problems(without_folder(error, site().book).problems)


def _not_now(error: TraysheetsError) -> tuple[Said, ...]:
    """That the book cannot be used now, and for whoever runs it, why."""
    return *speech().all("bench.no_book_try"), *_sentences(error)


def _again(
    account: Account,
    corrects: Entry | None,
    status: int,
    problems: Sequence[Said] = (),
    doubts: Sequence[Said] = (),
    key: str = "",
) -> Response:
    """The form once more, with what was typed and what is wrong or doubted; `key`: it needs another one."""
    filled = _filled(key)
    if corrects:
        page = _correction_page(account, corrects, filled, problems, doubts)
    else:
        page = batch_page(account, filled, problems, doubts)
    return _answer(page, status)


def _kept(status: int, problems: Sequence[Said]) -> Response:
    """A page that tells nothing of the book, and keeps what was typed to be sent again."""
    page = render_template("keep_form.html", filled=_filled(), path=request.path, problems=problems)
    return _answer(page, status)


def _answer(page: str, status: int) -> Response:
    """A page with its status, and where it says to wait, for how long (RFC 9110, 10.2.3)."""
    response = make_response(page, status)
    if status in (429, 503):
        response.headers["Retry-After"] = str(math.ceil(access().seconds_until_try(site().seconds())) or 10)
    return response


def _filled(key: str = "") -> dict[str, str]:
    """What was typed; its key stays, so that it is stored once, unless it needs another or has none of ours."""
    filled = {field: request.form.get(field, "") for field in TYPED} | ({"key": key} if key else {})
    return filled if is_key(filled["key"]) else filled | {"key": new_key()}


def _correction_page(
    account: Account,
    entry: Entry,
    filled: dict[str, str],
    problems: Sequence[Said] = (),
    doubts: Sequence[Said] = (),
) -> str:
    return render_template(
        "correct.html",
        account=account,
        batch=account.batch,
        entry=entry,
        choices=[choice for choice in choices(account, speech()) if choice.kind is not Kind.REMARK],
        filled=filled,
        problems=problems,
        doubts=doubts,
    )


@blueprint.post("/sign-in")
def sign_in() -> Response:
    """Open a session with the pass phrase, and go on to where it was asked for."""
    onward = own_path(request.form.get("next", "/"))
    if not token_fits():
        return _ask(onward, 403, speech().all("bench.page_old"))
    wait = access().try_phrase(request.form.get("passphrase", ""), site().seconds())
    if wait is None:
        return redirect(onward, 303)
    if wait:
        return _ask(onward, 429, (_wait(wait),))
    return _ask(onward, 403, speech().all("bench.wrong_passphrase"))


def _ask(onward: str, status: int, problems: Sequence[Said]) -> Response:
    return _answer(render_template("sign_in.html", onward=onward, problems=problems), status)


@blueprint.post("/sign-out")
def sign_out() -> Response:
    """End the session on this phone."""
    if not token_fits():
        abort(403)
    session.clear()
    return redirect("/", 303)
