"""A student's own record beside the labs of now: earlier labs, what was seen at the machine, timed heats."""

from dataclasses import dataclass

from flask import render_template
from flask.typing import ResponseReturnValue

from app.services import at_the_machine, handing_in
from app.services.at_the_machine import OwnRecord
from app.web import current
from app.web.access import Rule, access
from app.web.labs import blueprint
from app.web.machine_words import MachinePage


@dataclass(frozen=True)
class OwnRecordPage:
    record: OwnRecord
    seen: MachinePage


@blueprint.get("/record")
@access(Rule.STUDENT)
def own_record() -> ResponseReturnValue:
    database, student, now = current.database(), current.someone(), current.now()
    handing_in.hand_in_what_is_over(database, now=now, student=student)
    record = at_the_machine.own_record(database, student=student, now=now)
    seen = MachinePage(record.checks, record.heats, now, record.time_zone)
    return render_template("labs/own_record.html", page=OwnRecordPage(record, seen))
