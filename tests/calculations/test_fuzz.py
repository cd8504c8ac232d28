"""Every calculation under thousands of inputs, right and wrong: an answer or a refusal, nothing else."""

import json
import re
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.calculations import json_text, registry
from tests.calculations.inputs import JUNK, inputs, spoiled

# Two tests of so many examples for each of the calculations: 10,000 in all.
examples_each = settings(max_examples=200)
LONGEST_SECONDS = 3.0

VALIDATOR_WORDS = re.compile(r"Input should|pydantic|validation error|Traceback|numpy", re.IGNORECASE)


def checked(answer_to, *arguments):
    """The answer: soon, as plain finite JSON, and if it is a refusal it names a field and speaks plainly."""
    started = time.process_time()
    answer = answer_to(*arguments)
    assert time.process_time() - started < LONGEST_SECONDS
    text = json_text.encoded(answer)
    assert json.loads(text) == answer
    if "error" in answer:
        assert answer.keys() == {"error"}
        assert answer["error"].keys() == {"field", "message"}
        assert answer["error"]["field"]
        assert re.search(r"\w.*[.!?]$", answer["error"]["message"]), answer
        assert not VALIDATOR_WORDS.search(answer["error"]["message"]), answer
    return answer


@pytest.mark.parametrize("name", registry.names())
def test_an_allowed_input_gets_a_finite_answer_or_a_plain_refusal(name):
    answered = 0

    @examples_each
    @given(inputs(registry.schema(name)))
    def examples(allowed):
        nonlocal answered
        answered += "error" not in checked(registry.answer, name, allowed)

    examples()
    assert answered > 0, "every input was refused, so this checked little"


@pytest.mark.parametrize("name", registry.names())
def test_a_spoiled_input_gets_a_plain_refusal_or_a_finite_answer(name):
    @examples_each
    @given(spoiled(registry.schema(name)))
    def examples(wrong):
        checked(registry.answer, name, wrong)

    examples()


@examples_each
@given(st.binary(max_size=200))
def test_a_line_of_any_bytes_gets_an_answer(line):
    checked(json_text.answer_line, line)


@pytest.mark.parametrize("name", [*JUNK, "convert"])
def test_a_name_of_any_kind_gets_an_answer(name):
    checked(registry.answer, name, {})
