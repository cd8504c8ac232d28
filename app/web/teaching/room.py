"""Route of a running lab as it is watched: the page asks for itself again while it is open."""

from collections.abc import Sequence
from dataclasses import dataclass

from flask import render_template, request
from flask.typing import ResponseReturnValue

from app.services import handing_in, live
from app.services.live import Doing, Room, Seat
from app.web import current
from app.web.access import Rule, access
from app.web.formatting import counted, percent
from app.web.teaching import blueprint

ORDER = (Doing.STUCK, Doing.WORKING, Doing.NOT_STARTED, Doing.DONE)


@dataclass(frozen=True)
class RoomPage:
    """names: whether they are shown; without them it may stand on the projector."""

    room: Room
    names: bool

    @property
    def counts(self) -> Sequence[tuple[str, int]]:
        return [(doing.value, self.room.count(doing)) for doing in ORDER]

    @property
    def seats(self) -> Sequence[Seat]:
        """Who may need help first."""
        return sorted(self.room.seats, key=lambda seat: ORDER.index(seat.doing))

    @property
    def summary(self) -> str:
        """What a screen reader hears when it changes."""
        return ", ".join(f"{count} {word}" for word, count in self.counts)

    def progress(self, seat: Seat) -> str:
        if seat.share is not None:
            return f"{percent(seat.share)} % of the points"
        return f"{seat.answered} of {counted(seat.tasks, 'answer')}" if seat.attempt_id else ""


@blueprint.get("/assignments/<public_id:assignment_id>/room")
@access(Rule.INSTRUCTOR)
def room(assignment_id: str) -> ResponseReturnValue:
    database, now = current.database(), current.now()
    handing_in.hand_in_what_is_over(database, now=now, assignment_id=assignment_id)
    seen = live.room(database, assignment_id=assignment_id, instructor=current.someone(), now=now)
    return render_template("teaching/room.html", page=RoomPage(seen, request.args.get("names") != "hidden"))
