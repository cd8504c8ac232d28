"""How quick it is: `python -m tests.benchmarks` prints a table; names after it choose the rows."""
