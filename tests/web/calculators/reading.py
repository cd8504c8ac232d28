"""Reading a calculator's page as a person does: its headline, its tables, the words at a field."""

import re
from urllib.parse import urlencode

import html5lib
import pytest

from tests.web.checks import XHTML

NO_RESULT = "No result yet"


def show(client, slug, status=200, **entries):
    answer = client.get(f"/calculators/{slug}?{urlencode({'units': 'metric', **entries})}")
    assert answer.status_code == status, answer.text
    return answer.text


def tables(html):
    """By caption: the rows of each table of the page, every cell as text."""
    page = html5lib.parse(html)
    found = {}
    for table in page.iter(f"{XHTML}table"):
        caption = "".join(table.find(f"{XHTML}caption").itertext())
        rows = table.find(f"{XHTML}tbody").iter(f"{XHTML}tr")
        found[caption] = [[" ".join("".join(cell.itertext()).split()) for cell in row] for row in rows]
    return found


def results(html):
    """By label: what stands in the metric and in the US column."""
    return {row[0]: row[1:] for row in tables(html)["Results"]}


def headline(html):
    page = html5lib.parse(html)
    return next("".join(p.itertext()) for p in page.iter(f"{XHTML}p") if p.get("data-live") == "headline")


def fault_at(html, entry):
    page = html5lib.parse(html)
    faults = [p for p in page.iter(f"{XHTML}p") if p.get("id") == f"entry-{entry}-error"]
    return "".join(faults[0].itertext()) if faults else ""


def number(text):
    """The first number in a text, as it is shown."""
    return float(re.search(r"−?[0-9.]+", text)[0].replace("−", "-"))


def shows(text, value):
    """Whether the first number in a text is this value, rounded to the places that are shown."""
    digits = re.search(r"−?[0-9]+(\.[0-9]+)?", text)[0]
    half_a_step = 0.5 * 10.0 ** -len(digits.partition(".")[2])
    return number(text) == pytest.approx(value, abs=half_a_step * 1.000001)
