"""How a reflection sheet stands, in words: the same for students, instructors and on paper."""

from app.services.reflection_sheets import ReflectionState, Sheet, Step
from app.web.formatting import number

_DONE_BY_STUDENT = {
    ReflectionState.HANDED_IN: "handed in",
    ReflectionState.WRITING: "taken back",
}
_DONE_BY_INSTRUCTOR = {
    ReflectionState.RETURNED: "returned",
    ReflectionState.ASKED_AGAIN: "asked to write again",
}


def standing(sheet: Sheet) -> str:
    """`not written`, `being written`, `handed in`, `returned`, `to be written again`."""
    if sheet.state is ReflectionState.WRITING:
        return "being written" if sheet.written else "not written"
    return "to be written again" if sheet.state is ReflectionState.ASKED_AGAIN else sheet.state.value


def kind_of_stamp(sheet: Sheet) -> str:
    """Of the macro `state` in templates/components/marks.html."""
    match sheet.state:
        case ReflectionState.RETURNED:
            return "good"
        case ReflectionState.ASKED_AGAIN:
            return "bad"
    return "plain"


def step_text(step: Step) -> str:
    """`returned by Robin Lang`."""
    return f"{(_DONE_BY_STUDENT if step.by_student else _DONE_BY_INSTRUCTOR)[step.state]} by {step.made_by}"


def points_text(sheet: Sheet) -> str | None:
    """`3.5 of 4 points`, `– of 4 points` before any are given; None for sheets that are worth none."""
    return None if sheet.out_of is None else f"{number(sheet.points)} of {number(sheet.out_of)} points"
