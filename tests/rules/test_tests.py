"""The tests themselves: none may look green because it did not run."""

import re

import pytest

from tests.rules import tree

SKIPS = re.compile(r"\bpytest\.(?:skip|importorskip|xfail|mark\.(?:skip|skipif|xfail))\b")
FIXED_SLEEP = re.compile(r"\btime\.sleep\((?!0\.0\d+\))|\bwait_for_timeout\(")


def test_no_browser_test_skips_itself() -> None:
    found = [
        tree.name_of(path) for path in tree.under("tests/browser", ".py") if SKIPS.search(path.read_text())
    ]
    assert found == []


def test_no_test_waits_a_fixed_time() -> None:
    found = [
        tree.name_of(path) for path in tree.under("tests", ".py") if FIXED_SLEEP.search(path.read_text())
    ]
    assert found == []


@pytest.mark.parametrize("line", ["pytest" + ".skip('no browser')", "@pytest" + ".mark.skipif(True)"])
def test_the_rule_on_skipping_sees_it(line: str) -> None:
    assert SKIPS.search(line)


@pytest.mark.parametrize("line", ["time" + ".sleep(1)", "page.wait_for" + "_timeout(500)"])
def test_the_rule_on_waiting_sees_a_fixed_wait(line: str) -> None:
    assert FIXED_SLEEP.search(line)
