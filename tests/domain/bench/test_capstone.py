"""What the capstone at the bench asks in numbers can be read there."""

from datetime import date, timedelta

import pytest

from app.domain.marking import Verdict, mark_all
from app.domain.measures import UnitSystem
from app.domain.variants import draw
from tests.domain.bench.mechanic import Mechanic
from tests.domain.writing import shipped


def full_years(identification: str, today: date) -> int:
    """49 CFR 574.5: week 01 is the year's first full week, Sunday to Saturday."""
    week, year = int(identification[-4:-2]), 2000 + int(identification[-2:])
    days = (date(year, 1, 1) + timedelta(days=day) for day in range(7))
    built = next(day for day in days if day.isoweekday() == 7) + timedelta(weeks=week - 1)
    return today.year - built.year - ((today.month, today.day) < (built.month, built.day))


@pytest.mark.parametrize("units", UnitSystem)
def test_ages_and_runout_are_read_at_the_bench(units: UnitSystem) -> None:
    for seed in range(30):
        variant = draw(shipped("bench-four-assemblies"), seed, units)
        mechanic = Mechanic(variant)
        today = variant.scenario.vehicle.service_date
        answers = {}
        for letter in "ABCD":
            number = mechanic.sees(letter, "sidewall")["Identification number"]
            answers[f"age-{letter.lower()}"] = str(full_years(number, today))
        mechanic.must("bring", assembly="C", to="gauge")
        mechanic.must("place-gauge", place="tread")
        shown = {fact.label: fact.value for fact in mechanic.must("read-round", steps=12).facts}
        answers["runout"] = shown["First harmonic, peak to peak"]
        answers["runout-high"] = shown["High spot"]
        marks = {mark.task_id: mark for mark in mark_all(variant, answers, mechanic.state)}
        assert {name: marks[name].verdict for name in answers} == dict.fromkeys(answers, Verdict.RIGHT)
