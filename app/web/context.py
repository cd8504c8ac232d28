"""What every template may use beside its `page`."""

from dataclasses import dataclass
from typing import Any

from flask import Flask, current_app, request, url_for

from app.web import current
from app.web.csrf import new_token


@dataclass(frozen=True)
class Place:
    """One entry of the navigation."""

    label: str
    url: str
    current: bool


NAVIGATION: dict[str, tuple[tuple[str, str], ...]] = {
    "instructor": (
        ("Classes", "teaching.classes"),
        ("Scenarios", "teaching.scenarios"),
        ("Calculators", "calculators.index"),
    ),
    "student": (("Labs", "labs.home"), ("Grades", "labs.grades"), ("Calculators", "calculators.index")),
}
"""By role: label and endpoint, in order. The longest address that a page lies under is the current one."""


def navigation() -> list[Place]:
    """The places of the signed-in person; none for a visitor."""
    person = current.person()
    places = [(label, url_for(endpoint)) for label, endpoint in (NAVIGATION[person.role] if person else ())]
    above = [url for _, url in places if request.path == url or request.path.startswith(url + "/")]
    return [Place(label, url, url == max(above, key=len, default=None)) for label, url in places]


def assets() -> str:
    """The address that those of all files in `static/` begin with; every release has another."""
    return f"{request.script_root}{current_app.static_url_path}"


def asset(name: str) -> str:
    """Address of a file in `static/`."""
    return f"{assets()}/{name}"


def everywhere() -> dict[str, Any]:
    """The names of the base template."""
    person = current.person()
    return {
        "navigation": navigation(),
        "assets": assets(),
        "signed_in_name": person.display_name if person else None,
        "signed_in_id": person.public_id if person else None,
    }


def install(app: Flask) -> None:
    """Make these names known to the templates of `app`."""
    app.context_processor(everywhere)
    app.add_template_global(asset)
    app.add_template_global(new_token, "csrf_token")
