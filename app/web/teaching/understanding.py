"""Routes of what a class understood: of one assignment, and by skill."""

from dataclasses import dataclass

from flask import render_template
from flask.typing import ResponseReturnValue

from app.drawings.class_charts import TaskPoint, points_chart, task_chart
from app.drawings.drawing import Drawing
from app.services import handing_in
from app.services import understanding as services
from app.services.understanding import AssignmentUnderstanding, SkillRow
from app.web import current
from app.web.access import Rule, access
from app.web.formatting import counted, number
from app.web.teaching import blueprint
from app.web.teaching.classes import own_class

FEW = 20
"""Below so many students a statistic of this kind is said to be unsure."""

RELIABILITY = (
    "Near 1, a second lab of this kind would put the class in the same order; "
    "near 0, chance did as much as skill."
)


@dataclass(frozen=True)
class UnderstandingPage:
    seen: AssignmentUnderstanding

    @property
    def task_chart(self) -> Drawing:
        return task_chart(
            [
                TaskPoint(place, task.title, task.difficulty, task.discrimination)
                for place, task in enumerate(self.seen.tasks, 1)
                if task.difficulty is not None
            ]
        )

    @property
    def points_chart(self) -> Drawing:
        return points_chart(self.seen.shares)

    @property
    def reliability(self) -> str:
        """The coefficient in a sentence, with its sample size; a dash where it is undefined."""
        found = self.seen.reliability
        name = "KR-20" if found.is_kr20 else "Coefficient alpha"
        value = number(found.coefficient)
        sample = (
            f"{counted(found.students, 'student')} and {counted(found.tasks, 'task')} with every mark there"
        )
        unsure = " So few students say little." if found.students < FEW else ""
        return f"{name}: {value}, from {sample}.{unsure} {RELIABILITY}"


@dataclass(frozen=True)
class SkillsPage:
    class_id: str
    class_name: str
    rows: tuple[SkillRow, ...]


@blueprint.get("/assignments/<public_id:assignment_id>/understanding")
@access(Rule.INSTRUCTOR)
def understanding(assignment_id: str) -> ResponseReturnValue:
    database, now = current.database(), current.now()
    handing_in.hand_in_what_is_over(database, now=now, assignment_id=assignment_id)
    seen = services.of_assignment(database, assignment_id=assignment_id, instructor=current.someone())
    return render_template("teaching/understanding.html", page=UnderstandingPage(seen))


@blueprint.get("/classes/<public_id:class_id>/skills")
@access(Rule.INSTRUCTOR)
def skills(class_id: str) -> ResponseReturnValue:
    school_class = own_class(class_id)
    rows = services.by_skill(
        current.database(), class_id=class_id, instructor=current.someone(), now=current.now()
    )
    return render_template("teaching/skills.html", page=SkillsPage(class_id, school_class.name, rows))
