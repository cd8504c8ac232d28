"""References: what is one, what it says, and what is refused."""

import pytest
from pydantic import TypeAdapter, ValidationError

from app.domain.model import quantities
from app.domain.references import EVERY, UnknownReference, for_assembly, of_assembly, split_reference
from app.domain.tasks import Key


@pytest.mark.parametrize(
    ("reference", "parts"),
    [
        ("assembly[A].correction.inboard.mass_g", ("A", "correction.inboard.mass_g")),
        ("assembly[B1].decision", ("B1", "decision")),
        ("assembly[*].force.first_n", (EVERY, "force.first_n")),
        ("car.comfort", (None, "comfort")),
    ],
)
def test_a_reference_names_an_assembly_or_the_car_and_a_quantity(
    reference: str, parts: tuple[str | None, str]
) -> None:
    assert split_reference(reference) == parts
    assert TypeAdapter(Key).validate_python(reference) == reference


@pytest.mark.parametrize(
    "text",
    ["", "car", "car.", "car..comfort", "assembly.decision", "assembly[a].decision", "assembly[ABC].x",
     "assembly[A].decision\n", "truck.comfort", "assembly[A].Decision", "assembly[].x"],
)  # fmt: skip
def test_another_text_is_no_reference_for_an_author_or_for_the_model(text: str) -> None:
    with pytest.raises(UnknownReference):
        split_reference(text)
    with pytest.raises(ValidationError):
        TypeAdapter(Key).validate_python(text)


def test_every_quantity_has_a_reference_that_is_spelled_for_one_assembly() -> None:
    for reference in quantities():
        letter, name = split_reference(for_assembly(reference, "C"))
        assert (letter, reference.startswith("car")) in (("C", False), (None, True))
        assert letter is None or of_assembly(letter, name) == for_assembly(reference, "C")
    assert for_assembly("assembly[A].decision", "C") == "assembly[A].decision"
