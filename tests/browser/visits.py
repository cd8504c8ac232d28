"""Every page of the app in each of its main states."""

from app.domain.bench import Station
from app.web.calculators.sheets import CALCULATORS
from tests.browser.authoring_visits import FILES, WRITING
from tests.browser.people_visits import DOWNLOADS, PEOPLE
from tests.browser.visiting import (
    Visit,
    a_class_without_calculators,
    at,
    bench,
    calculator,
    fill,
    fill_first,
    fresh_instructor,
    fresh_student,
    instructor,
    lonely_student,
    newcomer,
    nobody,
    press,
    scenario,
    send_past_the_script,
    student,
    the_assignment,
    the_class,
    the_class_of,
    the_exception,
    the_fresh_class,
    the_grade,
    the_student,
    then,
    tick,
    told_of_faults,
    unfold,
)

NOT_PAGES = {
    "static": "files",
    "auth.home": "leads on to another page",
    **DOWNLOADS,
    **FILES,
    "teaching.gradebook_csv": "a download",
    "teaching.gradebook_xlsx": "a download",
    "teaching.reflections_file": "a download",
    "teaching.reflection_sheet_file": "a download",
    "teaching.class_reflections_file": "a download",
    "teaching.student_reflections_file": "a download",
    "teaching.blank_reflections": "a download",
    "teaching.worksheets": "a download",
    "teaching.worksheet_key": "a download",
}
"""Endpoints that answer GET with something else than a page."""

VISITORS = [
    Visit("auth.sign_in", "empty", nobody, at("/sign-in")),
    Visit(
        "auth.sign_in_now", "with faults", nobody,
        then(at("/sign-in"), press("Sign in"), told_of_faults), 422,
    ),
    Visit("auth.about", "over plain http", nobody, at("/about")),
    Visit("auth.pass_phrase", "empty", student, at("/pass-phrase")),
    Visit(
        "auth.change_pass_phrase", "with faults", student,
        then(at("/pass-phrase"), press("Change the pass phrase"), told_of_faults), 422,
    ),
    Visit("", "no such page", nobody, at("/nothing"), 404),
    Visit("", "not for this account", student, at("/teaching"), 403),
    Visit("", "a method that is not meant", student, at("/sign-out"), 405),
]  # fmt: skip

STUDENTS = [
    Visit("labs.home", "nothing to do", lonely_student, at("/labs")),
    Visit("labs.grades", "some", student, at("/labs/grades")),
    Visit("labs.grades", "none", lonely_student, at("/labs/grades")),
    Visit("labs.home", "with labs in every state", student, at("/labs")),
    Visit(
        "labs.assignment", "before the first attempt", fresh_student,
        at("/labs/assignments/{stage.fresh_assignment}"),
    ),
    Visit(
        "labs.assignment", "with an attempt to go on with", student,
        at("/labs/assignments/{stage.in_progress}"),
    ),
    Visit(
        "labs.assignment", "every attempt used, and late", student,
        at("/labs/assignments/{stage.late}"),
    ),
    Visit(
        "labs.assignment", "not open yet", student, at("/labs/assignments/{stage.not_open}")
    ),
    Visit(
        "labs.start", "not open yet", student,
        then(at("/labs/assignments/{stage.not_open}"),
             send_past_the_script("main form"),
             told_of_faults), 422,
    ),
    Visit(
        "labs.attempt", "fresh", fresh_student,
        then(at("/labs/assignments/{stage.to_start}"),
             press("Start the lab"), unfold),
    ),
    Visit(
        "labs.attempt", "with answers", student,
        then(at("/labs/attempts/{stage.open_attempt}"), unfold),
    ),
    Visit(
        "labs.save_answers", "with faults", student,
        then(at("/labs/attempts/{stage.open_attempt}"), press("Check and hand in"),
             told_of_faults), 422,
    ),
    Visit(
        "labs.attempt", "steps to order, spots to mark, hints", student,
        at("/labs/attempts/{stage.every_answer}"),
    ),
    Visit(
        "labs.result", "an order, spots and ticks right in part, a hint taken off", student,
        then(at("/labs/attempts/{stage.every_result}/result"), unfold),
    ),
    Visit(
        "teaching.attempt", "with a rubric by criterion", instructor,
        at("/teaching/attempts/{stage.every_result}"),
    ),
    Visit(
        "labs.hint", "before it is shown", student,
        at("/labs/attempts/{stage.every_answer}/hints/on-the-wheel"),
    ),
    Visit(
        "labs.check", "with blank and unreadable answers", student,
        at("/labs/attempts/{stage.open_attempt}/hand-in"),
    ),
    Visit(
        "labs.result", "right, part, wrong, blank and waiting", student,
        then(at("/labs/attempts/{stage.result}/result"), unfold),
    ),
    Visit(
        "labs.reflection", "written, with results", student,
        at("/labs/assignments/{stage.handed_in}/reflection"),
    ),
    Visit(
        "labs.reflection", "empty", fresh_student,
        at("/labs/assignments/{stage.fresh_assignment}/reflection"),
    ),
    Visit(
        "labs.save_reflection", "with faults", fresh_student,
        then(at("/labs/assignments/{stage.fresh_assignment}/reflection"), press("Hand in"),
             told_of_faults), 422,
    ),
]  # fmt: skip

INSTRUCTORS = [
    Visit("teaching.classes", "none yet", newcomer, at("/teaching")),
    Visit("teaching.classes", "with one put away", fresh_instructor, then(at("/teaching"), unfold)),
    Visit("teaching.new_class", "empty", newcomer, at("/teaching/classes/new")),
    Visit(
        "teaching.make_class", "with faults", newcomer,
        then(at("/teaching/classes/new"), press("Make the class"), told_of_faults), 422,
    ),
    Visit(
        "teaching.class_page", "nobody in it", fresh_instructor,
        at("/teaching/classes/{stage.empty_class}"),
    ),
    Visit("teaching.class_page", "full", instructor, the_class()),
    Visit(
        "teaching.new_cards", "nobody ticked", instructor,
        then(the_class(), press("New cards for the ticked"), told_of_faults), 422,
    ),
    Visit(
        "teaching.new_cards", "cards to print", fresh_instructor,
        then(the_fresh_class(), tick(lambda stage: stage.without_card),
             press("New cards for the ticked")),
    ),
    Visit("teaching.class_settings", "as set", instructor, the_class("/settings")),
    Visit(
        "teaching.change_class", "with faults", instructor,
        then(the_class("/settings"), fill("Name of the class", ""), press("Save the settings"),
             told_of_faults), 422,
    ),
    Visit(
        "teaching.class_settings", "put away", fresh_instructor,
        at("/teaching/classes/{stage.put_away}/settings"),
    ),
    Visit("teaching.names", "empty", instructor, the_class("/add-students")),
    Visit(
        "teaching.add_students", "looked over", instructor,
        then(the_class("/add-students"), fill("Students, one a line", "Lovelace, Ann\nBo Diaz"),
             press("Check the list")),
    ),
    Visit(
        "teaching.add_students", "with faults", instructor,
        then(the_class("/add-students"), fill("Students, one a line", "123\nBo Diaz\nBo Diaz"),
             press("Check the list"), told_of_faults), 422,
    ),
    Visit("teaching.student_settings", "in the class", instructor, the_student("/settings")),
    Visit(
        "teaching.student_settings", "who left", instructor,
        the_class_of(lambda stage: stage.dropped.public_id, "/settings"),
    ),
    Visit("teaching.scenarios", "the library", instructor, at("/teaching/scenarios")),
    Visit("teaching.scenario", "two planes", instructor, then(scenario("two-plane-balance"), unfold)),
    Visit(
        "teaching.scenario", "runout", fresh_instructor, then(scenario("runout-and-match-mounting"), unfold)
    ),
    Visit("teaching.scenario", "four assemblies", instructor, then(scenario("four-assemblies"), unfold)),
    Visit("teaching.try_scenario", "empty", instructor, then(scenario("four-assemblies", "/try"), unfold)),
    Visit(
        "teaching.try_scenario_now", "marked", instructor,
        then(scenario("two-plane-balance", "/try"), press("Mark these answers"), unfold),
    ),
    Visit("teaching.assign", "without a class", newcomer, scenario("two-plane-balance", "/assign")),
    Visit("teaching.assign", "empty", instructor, scenario("two-plane-balance", "/assign")),
    Visit(
        "teaching.give", "with faults", instructor,
        then(scenario("two-plane-balance", "/assign"), fill("Title", ""), fill("Due", "2001-01-01T10:00"),
             fill("Attempts allowed", "1.5"), press("Give to the class"), told_of_faults), 422,
    ),
    Visit(
        "teaching.assignment", "open", instructor,
        at("/teaching/assignments/{stage.handed_in}"),
    ),
    Visit(
        "teaching.assignment_settings", "as given", instructor,
        at("/teaching/assignments/{stage.handed_in}/settings"),
    ),
    Visit(
        "teaching.change_assignment", "with faults", instructor,
        then(at("/teaching/assignments/{stage.handed_in}/settings"), fill("Opens", ""),
             press("Save the changes"), told_of_faults), 422,
    ),
    Visit("teaching.exceptions", "of one class", instructor, the_assignment("/exceptions")),
    Visit("teaching.exception", "none yet", instructor, the_exception),
    Visit(
        "teaching.set_exception", "with faults", instructor,
        then(the_exception, fill("Attempts allowed", "x"), press("Save the exception"), told_of_faults), 422,
    ),
    Visit("teaching.extra_time", "as it is", instructor, the_student("/extra-time")),
    Visit("teaching.regrade", "nothing would change", instructor, the_assignment("/regrade")),
    Visit("teaching.gradebook", "full", instructor, the_class("/gradebook")),
    Visit(
        "teaching.gradebook", "nobody in the class", fresh_instructor,
        at("/teaching/classes/{stage.empty_class}/gradebook"),
    ),
    Visit("teaching.gradebook", "nobody found", instructor, the_class("/gradebook?find=nobody")),
    Visit(
        "teaching.student_grades", "some done", instructor,
        at("/teaching/classes/{stage.classroom.class_id}/gradebook/{stage.classroom.student.public_id}"),
    ),
    Visit("teaching.grade", "marked", instructor, the_grade),
    Visit(
        "teaching.set_grade", "with faults", instructor,
        then(the_grade, fill("Points set by hand", "many"), press("Save the grade"), told_of_faults), 422,
    ),
    Visit("teaching.categories", "none yet", instructor, the_class("/categories")),
    Visit(
        "teaching.add_category", "with faults", instructor,
        then(the_class("/categories"), press("Add the category"), told_of_faults), 422,
    ),
    Visit("teaching.room", "with names", instructor, the_assignment("/room")),
    Visit("teaching.room", "on the projector", instructor, the_assignment("/room?names=hidden")),
    Visit("teaching.understanding", "some done", instructor, then(the_assignment("/understanding"), unfold)),
    Visit(
        "teaching.understanding", "nobody yet", fresh_instructor,
        at("/teaching/assignments/{stage.fresh_assignment}/understanding"),
    ),
    Visit("teaching.skills", "some", instructor, the_class("/skills")),
    Visit(
        "teaching.attempt", "handed in", instructor,
        then(at("/teaching/attempts/{stage.result}"), unfold),
    ),
    Visit(
        "teaching.attempt", "open", instructor,
        then(at("/teaching/attempts/{stage.open_attempt}"), unfold),
    ),
    Visit(
        "teaching.mark_text", "with faults", instructor,
        then(at("/teaching/attempts/{stage.result}"), fill("Points", "5"),
             press("Save this mark"), told_of_faults), 422,
    ),
    Visit(
        "teaching.reflection_sheets", "some written", instructor,
        at("/teaching/assignments/{stage.handed_in}/reflections"),
    ),
    Visit(
        "teaching.read_reflections", "some written", instructor,
        at("/teaching/assignments/{stage.handed_in}/reflections/all"),
    ),
    Visit(
        "teaching.reflection_sheet", "not written", fresh_instructor,
        at("/teaching/assignments/{stage.fresh_assignment}/reflections/{stage.fresh.student.public_id}"),
    ),
    Visit(
        "teaching.return_reflection", "with faults", fresh_instructor,
        then(at("/teaching/assignments/{stage.fresh_assignment}/reflections/{stage.fresh.student.public_id}"),
             press("Ask to write again"), told_of_faults), 422,
    ),
    Visit("teaching.reflection_questions", "some", instructor, the_assignment("/reflections/questions")),
    Visit(
        "teaching.add_reflection_question", "with faults", instructor,
        then(the_assignment("/reflections/questions"), press("Add the question"), told_of_faults), 422,
    ),
    Visit("teaching.class_reflections", "every file", instructor, the_class("/reflections")),
]  # fmt: skip

CALCULATING = [
    Visit("calculators.index", "for a student", student, at("/calculators")),
    Visit("calculators.index", "for an instructor", instructor, at("/calculators")),
    Visit(
        "calculators.index", "switched off", a_class_without_calculators, at("/calculators"), 403
    ),
    Visit("calculators.model", "as it is", instructor, at("/calculators/model")),
    *(
        Visit("calculators.show", slug, student, then(calculator(slug), unfold)) for slug in CALCULATORS
    ),
    Visit(
        "calculators.show", "with faults", student, calculator("balance", "?mass1=many"), 422
    ),
    Visit("calculators.show", "on the projector", instructor, calculator("balance", "?view=projector")),
]  # fmt: skip

AT_THE_BENCH = [
    Visit(
        "labs.bench", "fresh", fresh_student,
        then(at("/labs/attempts/{stage.fresh_bench}/bench"), unfold),
    ),
    *(Visit("labs.bench", f"at the {station}", student, then(bench(station), unfold)) for station in Station),
    Visit(
        "labs.bench_log", "while work goes on", student,
        at("/labs/attempts/{stage.bench}/bench/log"),
    ),
    Visit(
        "labs.act", "with faults", student,
        then(bench("stand"), fill_first("#do-inflate input:not([type=hidden])", "thirty"),
             send_past_the_script("#do-inflate")), 422,
    ),
]  # fmt: skip

VISITS = [*VISITORS, *STUDENTS, *INSTRUCTORS, *CALCULATING, *AT_THE_BENCH, *PEOPLE, *WRITING]
