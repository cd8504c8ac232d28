"""How quick it is. `python -m tests.benchmarks` measures and prints a table; names after it choose the rows."""
