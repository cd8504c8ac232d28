"""A term of data behind the real pages, to try something on it and have it back as it was.

To the term of `tests/term.py` come the things that only a second page shows: what is put away, a sheet that
is not handed in, a second class, a second device.
"""

import shutil
import sqlite3
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from flask import Flask
from werkzeug.routing import Rule as Route
from werkzeug.test import TestResponse

from app.services import (
    accounts,
    authoring_publishing,
    classes,
    hands_on,
    pass_phrase_codes,
    received_files,
    reflection_prompts,
    reflections,
)
from app.services.reflections import OpenedPage
from app.settings import SCENARIOS
from app.store.db import Database
from tests import factories
from tests.library.pictures import picture
from tests.services.roster_zips import roster_zip
from tests.term import HINTED_TASK, Term, a_term, own_scenario
from tests.web.client import CheckedClient
from tests.web.every_form import FilledForm, forms_of, forms_on, kind_of

OF_AN_OPEN_LAB = {"labs.attempt", "labs.check", "labs.hint", "labs.bench", "labs.bench_log"}
"""Asked about an attempt that is handed in they lead on or have nothing."""

PEOPLE = ("student", "mate", "dropped", "outsider", "teacher", "second", "stranger")
COOKIE = "heavyspot"
NEW_PHRASE = "quiet copper kettle on the bench"
VISITOR = "visitor"
NOW = datetime(2030, 3, 4, 15, 0, tzinfo=UTC)
"""As the fixture of that name."""
CLASS_LIST = b"Last name;First name\nLovelace;Ann\n"


@dataclass(frozen=True)
class WholeTerm:
    """code: with which `mate` may choose a new pass phrase. more: addresses of pages beside those that
    `Term.arguments` name. file: the database, in which everybody is signed in on two devices; tokens and
    phrases: of the people by their place in the term. forms: what was found on the pages so far."""

    term: Term
    code: str
    more: tuple[str, ...]
    file: Path
    tokens: Mapping[str, str]
    phrases: Mapping[str, str]
    forms: dict[str, list[FilledForm]] = field(default_factory=dict)


def a_whole_term(library: Path, file: Path) -> WholeTerm:
    """library: a database with the shipped scenarios. file: where the term's own goes."""
    shutil.copy(library, file)
    database = Database(f"sqlite:///{file}")
    term = a_term(database, NOW)
    more = what_a_second_page_shows(database, term)
    tokens, phrases = {}, {}
    for who in PEOPLE:
        name = getattr(term, who).sign_in_name
        phrases[who] = accounts.reset_pass_phrase(database, sign_in_name=name, now=NOW)
        for _ in range(2):
            signed_in = accounts.sign_in(database, sign_in_name=name, pass_phrase=phrases[who], now=NOW)
        tokens[who] = signed_in.token
    in_class: dict[str, Any] = {
        "class_id": term.arguments["class_id"],
        "instructor": term.teacher,
        "now": NOW,
    }
    code = pass_phrase_codes.make_code(database, student_id=term.mate.public_id, **in_class)
    database.close()
    return WholeTerm(term, code.code, more, file, tokens, phrases)


def what_a_second_page_shows(database: Database, term: Term) -> tuple[str, ...]:
    by_teacher: dict[str, Any] = {"instructor": term.teacher, "now": NOW}
    in_class = by_teacher | {"class_id": term.arguments["class_id"]}
    hands_on.add_skills(database, lines=["Read a sidewall"], **in_class)
    skill = hands_on.grid(database, **in_class).skills[-1]
    hands_on.put_skill_away(database, skill_id=skill.skill_id, away=True, **in_class)
    sheet = by_teacher | {"assignment_id": term.hinted}
    open_one, closed = (
        reflection_prompts.add_prompt(database, text=text, **sheet) for text in ("What?", "Why?")
    )
    for prompt_id, page in ((open_one, "first"), (open_one, "second"), (closed, "first")):
        reflections.save(
            database,
            assignment_id=term.hinted,
            student=term.student,
            prompt_id=prompt_id,
            text=f"From the {page} page",
            opened=OpenedPage(page, 0),
            now=NOW,
        )
    reflection_prompts.close_prompt(database, prompt_id=closed, **sheet)
    away = own_scenario(database, term.teacher, NOW)
    authoring_publishing.archive(database, scenario_id=away.scenario_id, **by_teacher)
    other_class = factories.school_class(database, instructor=term.teacher, name="Auto 3")
    factories.student(database, class_id=other_class, instructor=term.teacher, name="Ed Other")
    old_class = factories.school_class(database, instructor=term.teacher, name="Auto 0")
    classes.archive_class(database, class_id=old_class, archived=True, **by_teacher)
    zip_id = received_files.keep(database, content=roster_zip(), instructor=term.second, now=NOW)
    return (
        f"/labs/assignments/{term.hinted}/reflection",
        f"/teaching/assignments/{term.hinted}/reflections/questions",
        f"/teaching/classes/{old_class}/settings",
        f"/teaching/roster/{zip_id}",
        f"/teaching/scenarios/{away.scenario_id}",
    )


def addresses(app: Flask, term: Term, method: str) -> Iterator[tuple[Route, str]]:
    """Every route that takes this method, with an address at which there is something."""
    for route in app.url_map.iter_rules():
        if method in (route.methods or ()):
            yield route, address_of(app, term, route)


def address_of(app: Flask, term: Term, route: Route) -> str:
    arguments = {
        **term.arguments,
        **(route.defaults or {}),
        "filename": "js/main.js",
        "token": "a" * 40,
        "number": 1,
    }
    of_this_lab = term.at_the_bench if "bench" in route.endpoint else term.own
    if route.endpoint in OF_AN_OPEN_LAB:
        arguments["attempt_id"] = term.attempts[term.student.sign_in_name][of_this_lab]
        arguments["task_id"] = HINTED_TASK
    with app.test_request_context():
        return app.url_for(route.endpoint, **{name: arguments[name] for name in route.arguments})


class Stage:
    """The application on a whole term; `restore` brings back what was there at the beginning."""

    def __init__(self, app: Flask, database: Database, whole: WholeTerm) -> None:
        self.app, self.whole = app, whole
        self.database = database
        self._watching: sqlite3.Connection | None = None
        self.clients: dict[str, CheckedClient] = {}
        self._cookies: dict[str, str] = {}
        self.restore()
        for who in (*PEOPLE, VISITOR):
            client = app.test_client()
            assert isinstance(client, CheckedClient)
            if who != VISITOR:
                client.sign_in_as(whole.tokens[who])
            client.get("/sign-in/code")
            cookie = client.get_cookie(COOKIE)
            assert cookie
            self.clients[who], self._cookies[who] = client, cookie.value

    @property
    def file(self) -> Path:
        assert self.database.file
        return self.database.file

    def restore(self) -> None:
        if self._watching:
            self._watching.close()
            self._watching = None
        self.database.close()
        for name in ("-wal", "-shm"):
            self.file.with_name(self.file.name + name).unlink(missing_ok=True)
        shutil.copy(self.whole.file, self.file)

    def version(self) -> int:
        """Another number after anybody has changed anything."""
        if self._watching is None:
            self._watching = sqlite3.connect(self.file)
        return int(self._watching.execute("PRAGMA data_version").fetchone()[0])

    def send(self, form: FilledForm, who: str, *, token: str | None = None) -> TestResponse:
        """With the browser as it was at the beginning."""
        client = self.clients[who]
        client.set_cookie(COOKIE, self._cookies[who])
        return form.send(client, token=token, file=FILES.get(form.endpoint, (b"", "")))

    def pages(self, who: str) -> list[str]:
        if who == VISITOR:
            return ["/sign-in", "/sign-in/code"]
        own = [address for _, address in addresses(self.app, self.whole.term, "GET")]
        return [*own, *self.whole.more]

    def forms(self, who: str) -> list[FilledForm]:
        """Of all pages that this person sees, filled in so that they can be sent."""
        if who not in self.whole.forms:
            shown = forms_of(self.app, self.clients[who], self.pages(who))
            first = [self._filled(form, who) for form in shown]
            second = [form for each in first if each.endpoint in LEAD_ON for form in self._next(each, who)]
            self.whole.forms[who] = [*first, *second, *self._on_no_page(who)]
        return self.whole.forms[who]

    def _next(self, form: FilledForm, who: str) -> Iterator[FilledForm]:
        """The forms on the page that answers this one, if they are others."""
        answer = self.send(form, who)
        self.restore()
        if answer.status_code == 200:
            for shown in forms_on(self.app, form.path, answer.text):
                if kind_of(shown) != kind_of(form) and shown.endpoint != "auth.sign_out":
                    yield self._filled(shown, who)

    def _on_no_page(self, who: str) -> Iterator[FilledForm]:
        """What a script sends, and what a deletion offers when the database was too busy."""
        term = self.whole.term
        if who == "student":
            lab = f"/labs/attempts/{term.attempts[term.student.sign_in_name][term.hinted]}"
            answer = {"task": (HINTED_TASK,), "answer": ("3 oz.in",)}
            yield FilledForm(lab, "labs.save_answer", f"{lab}/answer", answer, as_json=True)
            sheet = f"/labs/assignments/{term.hinted}/reflection"
            text = {"task": ("feel",), "answer": ("A shake",)}
            yield FilledForm(sheet, "labs.autosave_reflection", f"{sheet}/autosave", text, as_json=True)
        if who == "teacher":
            page = f"/teaching/classes/{term.arguments['class_id']}"
            yield FilledForm(page, "teaching.write_file_anew", f"{page}/write-file-anew", {})

    def _filled(self, form: FilledForm, who: str) -> FilledForm:
        known = {**TYPED.get(form.endpoint, {}), **self._known(form.endpoint, who)}
        chosen = form.offered if form.endpoint in CHOOSE_THE_LAST else {}
        typed = {
            name: text
            for name in form.entries
            for key, text in {**chosen, **known}.items()
            if name == key or (key.endswith("-") and name.startswith(key))
        }
        return form.with_entries(typed)

    def _known(self, endpoint: str, who: str) -> dict[str, str]:
        """What only people of this term know."""
        term, phrases = self.whole.term, self.whole.phrases
        known = {
            "auth.sign_in_now": {
                "sign_in_name": term.student.sign_in_name,
                "pass_phrase": phrases["student"],
            },
            "auth.change_pass_phrase": {"current_pass_phrase": phrases.get(who, "")},
            "auth.use_one_time_code": {"sign_in_name": term.mate.sign_in_name, "code": self.whole.code},
            "teaching.add_instructor": {"sign_in_name": term.stranger.sign_in_name},
            "teaching.delete_student_now": {"typed_name": term.student.display_name},
        }
        return known.get(endpoint, {})


LEAD_ON = {"teaching.add_students", "teaching.take_classes"}
"""Another form stands on the page that answers."""

CHOOSE_THE_LAST = {
    "teaching.make_contest",
    "teaching.sort_assignments",
    "teaching.give",
}
"""Where what is chosen at first is nothing."""

TWICE = {"pass_phrase": NEW_PHRASE, "pass_phrase_again": NEW_PHRASE}
TYPED: dict[str, dict[str, str]] = {
    "auth.change_pass_phrase": TWICE,
    "auth.use_one_time_code": TWICE,
    "labs.save_answers": {f"answer-{HINTED_TASK}": "2 oz.in"},
    "labs.act": {"distance_mm": "100", "width_in": "7", "diameter_in": "16", "angle_deg": "30"},
    "labs.save_reflection": {"response-": "A shake in the seat"},
    "teaching.change_assignment": {"title": "Lab 1 again"},
    "teaching.mark_text": {"points": "2"},
    "teaching.set_grade": {"points": "3"},
    "teaching.start_draft": {"title": "Our second"},
    "teaching.add_image": {"alt": "A rim", "name": "a-rim"},
    "teaching.publish_now": {"note": "The second"},
    "teaching.save_sheet": {"title": "One weight and one plane"},
    "teaching.change_category": {"weight": "50"},
    "teaching.add_category": {"name": "Tests", "weight": "40"},
    "teaching.make_class": {"name": "Auto 4"},
    "teaching.change_class": {"name": "Auto 2b"},
    "teaching.give": {
        "opens_at": "2030-03-05T08:00",
        "due_at": "2030-03-12T08:00",
        "unlock_after": "",
    },
    "teaching.take_classes": {"class-": "new"},
    "teaching.set_exception": {"time_factor": "1.5", "reason": "was ill"},
    "teaching.set_extra_time": {"extra_time_factor": "1.5"},
    "teaching.add_skills": {"lines": "Torque the nuts twice"},
    "teaching.make_contest": {"title": "Again"},
    "teaching.press_heat": {"reason": "Dropped a nut"},
    "teaching.add_students": {"names": "Lovelace, Ann\nBo Diaz"},
    "teaching.return_reflection": {"comment": "Clearer"},
    "teaching.add_reflection_question": {"text": "What next?"},
    "teaching.set_reflection_points": {"out_of": "6"},
}
"""What stands in a form of this endpoint, where what the page shows isn't enough or changes nothing."""

FILES = {
    "teaching.add_image": (picture(), "a.png"),
    "teaching.import_scenario_now": ((SCENARIOS / "one-plane" / "scenario.toml").read_bytes(), "a.toml"),
    "teaching.send_class_list": (CLASS_LIST, "list.csv"),
    "teaching.send_roster_zip": (roster_zip(), "roster.zip"),
}
