"""What typesetting does to the machine it runs on."""

import subprocess
import sys

MEMORY = """
import resource
from tests.exports.examples import sheet, HEADING
from app.exports.reflection_packet import reflection_packet
def peak():
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
def work(run):
    sheets = [sheet(f"Student {number} of run {run}") for number in range(60)]
    reflection_packet(sheets, heading=HEADING)
for run in range(3):
    work(run)
before = peak()
for run in range(3, 9):
    work(run)
print(before, peak())
"""


def test_packet_after_packet_takes_no_more_memory() -> None:
    printed = subprocess.run(
        [sys.executable, "-c", MEMORY], capture_output=True, text=True, check=True
    ).stdout
    before, after = map(int, printed.split())
    assert after < before * 1.2  # without forgetting, each run adds about a third
