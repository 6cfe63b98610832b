"""The pages that are read: all batches, one batch, one tray, today's work, and the box where a code is typed."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from urllib.parse import quote

from flask import Blueprint, abort, current_app, redirect, render_template, request, session
from werkzeug.wrappers import Response

from traysheets.base.limits import MOST_LETTERS_SCANNED, MOST_LETTERS_TYPED_TO_FIND
from traysheets.book.due import Due
from traysheets.book.entries import COUNTED
from traysheets.book.model import Kept
from traysheets.bookkeeping import Account, details_in
from traysheets.serve.access import own_path
from traysheets.serve.facts import facts_of
from traysheets.serve.lookup import Found, find
from traysheets.serve.notes import choices, new_key
from traysheets.serve.site import Drawn, Site
from traysheets.serve.speech import Said
from traysheets.serve.telling import cautions, entry_lines, saved_what
from traysheets.serve.tongue import speech
from traysheets.serve.trays import TrayPlan, tray_plan, trays_of
from traysheets.telling import counted

blueprint = Blueprint("pages", __name__)


def site() -> Site:
    """The site that the running application serves."""
    found: Site = current_app.extensions["site"]
    return found


def batch_path(code: str) -> str:
    """Where the page of a batch is found."""
    return f"/B/{quote(code, safe='')}"


def sign_in_path(onward: str) -> str:
    """Where to sign in, and go on to a path of our own."""
    return f"/sign-in?next={quote(onward, safe='')}"


@blueprint.get("/")
@blueprint.get("/index.html")
def index() -> str:
    """All batches, by sowing day."""
    return render_template("index.html", accounts=site().accounts(), trays=trays_of(batches()))


@blueprint.get("/find")
def search() -> str | Response | tuple[str, int]:
    """The batch of a typed code, or the batches that have the words."""
    typed = request.args.get("q", "")[:MOST_LETTERS_SCANNED].strip()
    return _way_to(typed, find(typed, site().accounts())) if typed else redirect("/", 303)


def _way_to(typed: str, found: Found) -> Response | tuple[str, int]:
    """On to the batch or tray that was meant, else what was found, or what may be wrong."""
    if found.code:
        return redirect(batch_path(found.code), 303)
    if found.tray is not None:
        return redirect(f"/T/{found.tray}", 303)
    help = speech()(found.help, **found.values) if found.help else ""
    page = render_template("found.html", typed=typed[:MOST_LETTERS_TYPED_TO_FIND], found=found, help=help)
    return page, 200 if found.accounts else 404


@blueprint.get("/today")
def today() -> str:
    """What should be done today, the latest first, then what comes in the next days."""
    work = [Work(account, step) for account in site().accounts() for step in account.steps]
    late = sorted((one for one in work if one.step.state == "late"), key=Work.by_day)
    now = sorted((one for one in work if one.step.state == "now"), key=Work.by_day)
    coming = [one for one in work if one.step.state == "coming"]
    coming = [one for one in coming if (one.step.first - site().today).days <= DAYS_AHEAD]
    return render_template("today.html", late=late, now=now, coming=sorted(coming, key=Work.by_day))


DAYS_AHEAD = 7


@dataclass(frozen=True, slots=True)
class Work:
    """A step of a batch, as a line of today's work."""

    account: Account
    step: Due

    def by_day(self) -> tuple[object, ...]:
        """The order of the list: by day, then by code."""
        return self.step.first, self.account.batch.code


@blueprint.get("/B/<code>")
@blueprint.get("/B/<code>/index.html")
@blueprint.get("/b/<code>")
def batch(code: str) -> str | Response | tuple[str, int]:
    """A batch: what it is, what is due, the form to note what is seen, the entries, where it stands."""
    account = site().account(code)
    if account is None:
        return _way_to(code, find(code, site().accounts()))
    if request.path != f"/B/{code}":
        return redirect(batch_path(code), 303)
    return batch_page(account, {"kind": request.args.get("kind", "")})


def batch_page(
    account: Account, filled: dict[str, str], problems: Sequence[Said] = (), doubts: Sequence[Said] = ()
) -> str:
    """The page of a batch, its form filled in with what was typed before."""
    say, batch = speech(), account.batch
    drawn = site().drawings.batch(batch, say.language)
    saved = request.args.get("saved", "")
    just_saved = next((entry for entry in account.entries if str(entry.id) == saved), None)
    return render_template(
        "batch.html",
        account=account,
        batch=batch,
        cautions=cautions(batch, say),
        counted=counted(account, say.words) if just_saved is None or just_saved.kind in COUNTED else (),
        lines=entry_lines(account, say),
        saved=just_saved is not None,
        saved_what=saved_what(account, just_saved, say) if just_saved else "",
        choices=choices(account, say),
        filled=_blank() | filled,
        problems=problems,
        doubts=doubts,
        printed=_printed(account, drawn),
        drawn=drawn,
        plans=() if drawn else _plans(batch),
        facts=() if drawn else facts_of(batch, say),
    )


def _blank() -> dict[str, str]:
    """A form that nobody has typed into: today, by whoever wrote last on this phone."""
    told = {"key": new_key(), "day": site().today.isoformat(), "who": str(session.get("who", ""))}
    return {"kind": "", "number": "", "remark": ""} | told


def _printed(account: Account, drawn: Drawn | None) -> Drawn:
    """What is printed of a batch in words: as it is drawn, else as it was kept, in the language of that day."""
    if drawn:
        words = speech().words
        details = {step: details_in(account, step, text, words) for step, text in drawn.details.items()}
        return replace(drawn, details=details)
    told = account.batch.told
    details = {step.step: step.details for step in account.steps}
    language = str(told.get("language") or site().language)
    return Drawn("", language, lead=str(told.get("lead") or ""), details=details)


def _plans(batch: Kept) -> tuple[TrayPlan, ...]:
    """The trays of a batch from what was printed, as many as are of use."""
    plans = (tray_plan(number, batches(), batch) for number in trays_of([batch])[:MOST_PLANS])
    return tuple(plan for plan in plans if plan)


MOST_PLANS = 6


@blueprint.get("/T/<int(max=999999):number>")
@blueprint.get("/T/<int(max=999999):number>/index.html")
@blueprint.get("/t/<int(max=999999):number>")
def tray(number: int) -> str | Response:
    """A tray: what stands in it, and where."""
    if request.path != f"/T/{number}":
        return redirect(f"/T/{number}", 303)
    every = batches()
    codes = {batch.code for batch in every if number in trays_of([batch])}
    inside = [one for one in site().accounts() if one.batch.code in codes]
    if not inside:
        abort(404)
    drawn = site().drawings.tray(number, [one.batch for one in inside], speech().language)
    plan = None if drawn else tray_plan(number, every)
    return render_template("tray.html", number=number, accounts=inside, drawn=drawn, plan=plan)


def batches() -> list[Kept]:
    """The batches that are in the plan as it was last printed; of a book alone, in any plan."""
    plan = site().plan
    kept = (one.batch for one in site().accounts())
    return [batch for batch in kept if batch.in_plan and plan in (None, batch.plan)]


@blueprint.get("/sign-in")
def sign_in() -> str:
    """Where the pass phrase is asked for."""
    return render_template("sign_in.html", onward=own_path(request.args.get("next", "/")), problems=())
