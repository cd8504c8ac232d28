"""Routes of the bench: one page for all stations, and one action after the other.

A form is answered with a redirect to the page; the script of the page sends the same form and asks for JSON,
and gets the part of the page that has changed.
"""

from collections.abc import Mapping
from typing import Any

from flask import jsonify, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from werkzeug.exceptions import BadRequest

from app.domain.bench import BadAction, Station
from app.services import bench as service
from app.services import handing_in
from app.services.errors import Refused
from app.web import current
from app.web.access import Rule, access
from app.web.errors import wants_json
from app.web.fields import made_visible
from app.web.forms import SendForm, json_sent, require_csrf_header
from app.web.labs import blueprint
from app.web.labs.bench_forms import Problem, wire_form
from app.web.labs.bench_page import BenchLogPage, BenchPage, station_named

MOST_DIGITS = 9


@blueprint.get("/attempts/<public_id:attempt_id>/bench")
@access(Rule.STUDENT)
def bench(attempt_id: str) -> ResponseReturnValue:
    view = _own_bench(attempt_id)
    if view.handed_in or view.put_away:
        return redirect(url_for("labs.bench_log", attempt_id=attempt_id), 303)
    page = BenchPage(view, station_named(request.args.get("station"), view), SendForm(), {})
    return _shown(page, 200)


@blueprint.get("/attempts/<public_id:attempt_id>/bench/log")
@access(Rule.STUDENT)
def bench_log(attempt_id: str) -> ResponseReturnValue:
    return render_template("labs/bench_log.html", page=BenchLogPage(_own_bench(attempt_id)))


@blueprint.post("/attempts/<public_id:attempt_id>/bench")
@access(Rule.STUDENT)
def act(attempt_id: str) -> ResponseReturnValue:
    """Do one action: of a form, or `{"action": WIRE FORM, "expect": NUMBER}`."""
    view = _own_bench(attempt_id)
    if view.handed_in:
        return _handed_in(attempt_id)
    if request.is_json:
        require_csrf_header()
        sent, form = {}, SendForm()
    else:
        sent = {name: made_visible(text) for name, text in request.form.items()}
        form = SendForm(request.form)
        if not form.validate():
            return _shown(BenchPage(view, station_named(sent.get("station"), view), form, sent), form.status)
    try:
        action, expect = _asked(sent, view)
        view = service.act(
            current.database(),
            attempt_id=attempt_id,
            student=current.someone(),
            action=action,
            expect=expect,
            now=current.now(),
            known=view,
        )
    except service.Stale as stale:
        view = _own_bench(attempt_id)
        station = station_named(sent.get("station"), view)
        return _shown(BenchPage(view, station, form, {}, notice=stale.message), 409)
    except (BadAction, Refused) as fault:
        problem = Problem(sent.get("do", ""), fault.field, _sentence(fault.message))
        station = station_named(sent.get("station"), view)
        return _shown(BenchPage(view, station, form, sent, problem), 422)
    station = station_named(_station_after(action, view, sent.get("station")), view)
    if wants_json():
        return _shown(BenchPage(view, station, form, {}), 200)
    return redirect(url_for("labs.bench", attempt_id=attempt_id, station=station, _anchor="seen"), 303)


def _own_bench(attempt_id: str) -> service.BenchView:
    """The bench, its lab handed in as it is when its time is over."""
    handing_in.hand_in_what_is_over(current.database(), now=current.now(), attempt_id=attempt_id)
    return service.bench(current.database(), attempt_id=attempt_id, student=current.someone())


def _asked(sent: Mapping[str, str], view: service.BenchView) -> tuple[Mapping[str, Any], int]:
    """The wire form of the action and the number that the screen knows. Raises BadAction, BadRequest."""
    if request.is_json:
        match json_sent():
            case {"action": dict(action), "expect": int(expect)} if not isinstance(expect, bool):
                return action, expect
        raise BadRequest
    typed = sent.get("expect", "")
    if not (typed.isascii() and typed.isdigit() and len(typed) <= MOST_DIGITS):
        raise BadRequest
    return wire_form(sent, view.variant.units), int(typed)


def _station_after(action: Mapping[str, Any], view: service.BenchView, before: str | None) -> str | None:
    """One follows what one carries; after anything else one stays."""
    done = view.run.done[-1]
    if action["do"] == "bring" and not done.observation.refused and action["to"] != Station.RACK:
        return str(action["to"])
    return before


def _sentence(message: str) -> str:
    """What the bench says of a field ("must be ...") as a sentence of its own."""
    return f"This {message}" if message.startswith("must") else message[:1].upper() + message[1:]


def _handed_in(attempt_id: str) -> ResponseReturnValue:
    address = url_for("labs.result", attempt_id=attempt_id)
    if wants_json():
        return jsonify(message=service.HANDED_IN, go=address), 409
    return redirect(address, 303)


def _shown(page: BenchPage, status: int) -> ResponseReturnValue:
    if not wants_json():
        return render_template("labs/bench.html", page=page), status
    last = page.last
    return jsonify(
        fragment=render_template("labs/bench_fragment.html", page=page),
        number=page.number,
        station=page.station,
        said=page.notice
        or page.misplaced_problem
        or (page.problem.message if page.problem else "")
        or (last.text if last else ""),
    ), status
