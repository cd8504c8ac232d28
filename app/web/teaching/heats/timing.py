"""Routes of timing a heat, and of showing it on the projector."""

from typing import Any

from flask import flash, jsonify, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.services import heats
from app.services.errors import NotFound, Refused
from app.services.heats import ContestView, HeatView
from app.web import current
from app.web.access import Rule, access
from app.web.forms import SendForm, json_sent, require_csrf_header
from app.web.teaching import blueprint
from app.web.teaching.heats.contests import own_contest
from app.web.teaching.heats.forms import PressForm, press_sent
from app.web.teaching.heats.pages import BoardPage, TimingPage

HEAT = "/classes/<public_id:class_id>/heats/<public_id:contest_id>/<public_id:heat_id>"


def _heat(contest: ContestView, heat_id: str) -> HeatView:
    found = next((heat for heat in contest.heats if heat.heat_id == heat_id), None)
    if found is None:
        raise NotFound("There is no such heat in this contest.")
    return found


@blueprint.get(HEAT)
@access(Rule.INSTRUCTOR)
def time_heat(class_id: str, contest_id: str, heat_id: str) -> ResponseReturnValue:
    contest = own_contest(class_id, contest_id)
    heat = _heat(contest, heat_id)
    outbox = f"heat-{current.someone().public_id}-{heat_id}"
    page = TimingPage(contest, heat, SendForm(), outbox)
    return render_template("teaching/time_heat.html", page=page)


@blueprint.post(HEAT)
@access(Rule.INSTRUCTOR)
def press_heat(class_id: str, contest_id: str, heat_id: str) -> ResponseReturnValue:
    """One act of the timekeeper: of a script as JSON with its page's own clock, or of a form."""

    def press(pressed: dict[str, Any]) -> None:
        heats.press(
            current.database(),
            class_id=class_id,
            instructor=current.someone(),
            contest_id=contest_id,
            heat_id=heat_id,
            now=current.now(),
            **pressed,
        )

    own_contest(class_id, contest_id)
    if request.is_json:
        require_csrf_header()
        press(press_sent(json_sent()))
        return jsonify({"saved": True})
    form = PressForm(request.form)
    if form.validate():
        try:
            press(form.pressed())
        except Refused as refusal:
            flash(refusal.message, "error")
    else:
        flash(next(iter(form.errors.values()))[0], "error")
    back = url_for("teaching.time_heat", class_id=class_id, contest_id=contest_id, heat_id=heat_id)
    return redirect(back, 303)


@blueprint.get("/classes/<public_id:class_id>/heats/<public_id:contest_id>/board")
@access(Rule.INSTRUCTOR)
def heat_board(class_id: str, contest_id: str) -> ResponseReturnValue:
    """The heat that was started last, readable from the back of the room."""
    contest = own_contest(class_id, contest_id)
    started = [heat for heat in contest.heats if heat.started_at is not None]
    heat = max(started, key=lambda each: each.number) if started else contest.heats[0]
    return render_template("teaching/heat_board.html", page=BoardPage(contest, heat, current.now()))
