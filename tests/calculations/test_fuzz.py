"""Every calculation under thousands of inputs, right and wrong: an answer or a refusal, nothing else."""

import json
import re
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.calculations import json_text, registry
from tests.calculations.inputs import JUNK, inputs, spoiled

# Two tests of 200 examples for each of the calculations: 10,000 in all.
EXAMPLES_EACH = 200
unhurried = settings(
    max_examples=EXAMPLES_EACH, derandomize=True, database=None, deadline=timedelta(seconds=5)
)

VALIDATOR_WORDS = re.compile(r"Input should|pydantic|validation error|Traceback|numpy", re.IGNORECASE)


def check(answer):
    """It is plain finite JSON, and a refusal names a field and speaks plainly."""
    text = json_text.encoded(answer)
    assert json.loads(text) == answer
    if "error" in answer:
        assert answer.keys() == {"error"}
        assert answer["error"].keys() == {"field", "message"}
        assert answer["error"]["field"]
        assert re.search(r"\w.*[.!?]$", answer["error"]["message"]), answer
        assert not VALIDATOR_WORDS.search(answer["error"]["message"]), answer


@pytest.mark.parametrize("name", registry.names())
def test_an_allowed_input_gets_a_finite_answer_or_a_plain_refusal(name):
    answered = 0

    @unhurried
    @given(inputs(registry.schema(name)))
    def examples(allowed):
        nonlocal answered
        answer = registry.answer(name, allowed)
        check(answer)
        answered += "error" not in answer

    examples()
    assert answered > 0, "every input was refused, so this checked little"


@pytest.mark.parametrize("name", registry.names())
def test_a_spoiled_input_gets_a_plain_refusal_or_a_finite_answer(name):
    @unhurried
    @given(spoiled(registry.schema(name)))
    def examples(wrong):
        check(registry.answer(name, wrong))

    examples()


@unhurried
@given(st.binary(max_size=200))
def test_a_line_of_any_bytes_gets_an_answer(line):
    check(json_text.answer_line(line))


@pytest.mark.parametrize("name", [*JUNK, "convert"])
def test_a_name_of_any_kind_gets_an_answer(name):
    check(registry.answer(name, {}))
