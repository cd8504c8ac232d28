"""What the term must come to, reckoned by hand: no function of the app has a part in it.

Shop labs weigh 60 % and lose their lowest, timed labs 40 %. Lab 3 is worth 20 points when it is worked and 21
after the regrade, which gives 2 points in place of 1 for the right answer to its 13th question: work with 17
points or more gains one. A reflection sheet counts with lab 7 once it was given points, out of 5.
"""

from dataclasses import dataclass


@dataclass(frozen=True)
class Sums:
    """points: of labs 1 to 8, None where there are none. states: what the gradebook's table says of each.
    shop, timed, total: percent, to four decimals."""

    points: tuple[float | None, ...]
    states: tuple[str, ...]
    shop: float
    timed: float
    total: float


OUT_OF = (12, 12, 21, 13, 17, 16, 17, 15)
DONE, OPEN = "handed in", "not open yet"

SUMS = {
    # All shares are 1, so the later of equals is dropped: lab 7 with its sheet, 22 of 22.
    "steady": Sums(
        (12, 12, 21, 13, 17, 16, 17, None),
        (DONE, DONE, DONE, DONE, DONE, DONE, "sheet 5 of 5, not counted", OPEN),
        shop=100,  # (12 + 12 + 21 + 16) / (12 + 12 + 21 + 16)
        timed=100,  # 13 / 13
        total=100,  # 0.6 x 100 + 0.4 x 100
    ),
    # Lab 1: the best of 9 and 4. Lab 2: the last of 11 and 7. Lab 3: (9 + 17 + 1) / 2 = 13.5.
    # Shares: 9/12 = 0.75, 7/12 = 0.583, 13.5/21 = 0.643, 7/16 = 0.438 (dropped), (15 + 3) / (17 + 5) = 0.818.
    "of several attempts": Sums(
        (9, 7, 13.5, 8, None, 7, 15, None),
        (DONE, DONE, DONE, DONE, "overdue", "not counted", "sheet 3 of 5", OPEN),
        shop=70.8955,  # (9 + 7 + 13.5 + 18) / (12 + 12 + 21 + 22) = 47.5 / 67 = 0.70896
        timed=61.5385,  # 8 / 13 = 0.615385
        total=67.1527,  # 0.6 x 70.8955 + 0.4 x 61.5385 = 42.5373 + 24.6154 = 67.1527
    ),
    # Lab 1: 30 hours late are two days begun, 2 x 10 %: 12 x 0.8 = 9.6. Lab 2 costs nothing.
    # Lab 7: one day begun, 20 %: 13 x 0.8 = 10.4, share 10.4/17 = 0.612 (dropped).
    "late": Sums(
        (9.6, 12, 21, 12, None, 16, 10.4, None),
        ("late", "late", DONE, DONE, "overdue", DONE, "late, not counted", OPEN),
        shop=96.0656,  # (9.6 + 12 + 21 + 16) / (12 + 12 + 21 + 16) = 58.6 / 61 = 0.960656
        timed=92.3077,  # 12 / 13 = 0.923077
        total=94.5624,  # 0.6 x 96.0656 + 0.4 x 92.3077 = 57.6393 + 36.9231 = 94.5624
    ),
    # Lab 1: nine days begun would cost 90 %, but half stays: 12 x 0.5 = 6, just the 50 % that open lab 6.
    # Lab 7's sheet is asked for again, with 1 of 5 points for the time being.
    # Shares: 6/12 = 0.5 (dropped), 7/12 = 0.583, 16/21 = 0.762, 12/16 = 0.75, (16 + 1) / (17 + 5) = 0.773.
    "very late": Sums(
        (6, 7, 16, 6, None, 12, 16, None),
        ("late, not counted", DONE, DONE, DONE, "overdue", DONE, "sheet 1 of 5", OPEN),
        shop=73.2394,  # (7 + 16 + 12 + 17) / (12 + 21 + 16 + 22) = 52 / 71 = 0.732394
        timed=46.1538,  # 6 / 13 = 0.461538
        total=62.4052,  # 0.6 x 73.2394 + 0.4 x 46.1538 = 43.9437 + 18.4615 = 62.4052
    ),
    # 2 of 12 are too little for lab 6. Of four zeros the last is dropped: lab 7.
    "missing": Sums(
        (2, None, None, None, 4, None, None, None),
        (DONE, "overdue", "overdue", "missing", DONE, "locked", "missing, not counted", OPEN),
        shop=3.2787,  # 2 / (12 + 12 + 21 + 16) = 2 / 61 = 0.032787
        timed=0,  # 0 / 13
        total=1.9672,  # 0.6 x 3.2787 = 1.9672
    ),
    # Shares: 1, excused, 1, 11/16 = 0.6875 (dropped), 14/17 = 0.824.
    "excused": Sums(
        (12, None, 21, 13, None, 11, 14, None),
        (DONE, "excused", DONE, DONE, "overdue", "not counted", DONE, OPEN),
        shop=94,  # (12 + 21 + 14) / (12 + 21 + 17) = 47 / 50
        timed=100,  # 13 / 13
        total=96.4,  # 0.6 x 94 + 0.4 x 100 = 56.4 + 40
    ),
    # Lab 2: 4 by the marks, 9.5 by hand. Lab 3: nothing handed in, 8 by hand; 8/21 = 0.381 (dropped).
    "by hand": Sums(
        (6, 9.5, 8, 8, None, 9, 11, None),
        (DONE, "by hand", "overdue, by hand, not counted", DONE, "overdue", DONE, DONE, OPEN),
        shop=62.2807,  # (6 + 9.5 + 9 + 11) / (12 + 12 + 16 + 17) = 35.5 / 57 = 0.622807
        timed=61.5385,  # 8 / 13
        total=61.9838,  # 0.6 x 62.2807 + 0.4 x 61.5385 = 37.3684 + 24.6154 = 61.9838
    ),
    # Lab 1: a fourth attempt, 12. Lab 4: 8 points were saved after 40 of the 30 x 1.5 = 45 minutes.
    # Lab 7: long after the class's closing, within the own due time: 17, no deduction, and the sheet 4 of 5.
    # Shares: 1, 1, 1, 13/16 = 0.8125 (dropped), 21/22 = 0.955.
    "extended": Sums(
        (12, 12, 21, 8, None, 13, 17, None),
        (DONE, DONE, DONE, DONE, "overdue", "not counted", "sheet 4 of 5", OPEN),
        shop=98.5075,  # (12 + 12 + 21 + 21) / (12 + 12 + 21 + 22) = 66 / 67 = 0.985075
        timed=61.5385,  # 8 / 13
        total=83.7199,  # 0.6 x 98.5075 + 0.4 x 61.5385 = 59.1045 + 24.6154 = 83.7199
    ),
    # Lab 3: 17 + 1. Lab 8 opened early for one student, and counts for that one alone.
    # Shares: 7/12 = 0.583 (dropped), 1, 18/21 = 0.857, 13/16 = 0.8125, 1.
    "early": Sums(
        (7, 12, 18, 6, None, 13, 17, 10),
        ("not counted", DONE, DONE, DONE, "overdue", DONE, DONE, DONE),
        shop=90.9091,  # (12 + 18 + 13 + 17) / (12 + 21 + 16 + 17) = 60 / 66 = 0.909091
        timed=57.1429,  # (6 + 10) / (13 + 15) = 16 / 28 = 0.571429
        total=77.4026,  # 0.6 x 90.9091 + 0.4 x 57.1429 = 54.5455 + 22.8571 = 77.4026
    ),
    # Lab 2 was begun and never handed in: 0 of 12 (dropped). Lab 4: what was saved in 30 minutes, 6.
    # Lab 7: handed in by the closing with 10, three days late, 3 x 20 %: 10 x 0.4 = 4.
    "out of time": Sums(
        (12, None, 4, 6, None, 16, 4, None),
        (DONE, "in progress, not counted", DONE, DONE, "overdue", DONE, "late", OPEN),
        shop=54.5455,  # (12 + 4 + 16 + 4) / (12 + 21 + 16 + 17) = 36 / 66 = 0.545455
        timed=46.1538,  # 6 / 13
        total=51.1888,  # 0.6 x 54.5455 + 0.4 x 46.1538 = 32.7273 + 18.4615 = 51.1888
    ),
}

STATES = {
    "excused": (0, 1, 0, 0, 0, 0, 0, 0),
    "not open yet": (0, 0, 0, 0, 0, 0, 0, 29),
    "locked": (0, 0, 0, 0, 0, 2, 0, 0),
    "in progress": (0, 1, 0, 0, 0, 0, 0, 0),
    "handed in": (22, 21, 27, 28, 10, 28, 22, 1),
    "late": (8, 5, 0, 0, 0, 0, 6, 0),
    "overdue": (0, 2, 3, 0, 20, 0, 0, 0),
    "missing": (0, 0, 0, 2, 0, 0, 2, 0),
}
"""How many of a class's 30 students are in which state at labs 1 to 8; each column adds up to 30."""

REGRADE = {"Handed in": 34, "Change in points": 23, "Higher": 23, "Lower": 0}
"""Of one class at lab 3. Attempts: 8 + 2 x 7 + 5 + 3 and four of single students. Of those with 17 points or
more: 8 steady ones, 7 second attempts, 5 late ones, and the excused, the extended and the early student's."""
