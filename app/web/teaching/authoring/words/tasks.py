"""Words of the tasks, by their kinds."""

from app.web.teaching.authoring.words.lab import MARKDOWN
from app.web.teaching.authoring.words.word import Words

KINDS = {
    "number": "a value",
    "choice": "one of several",
    "several": "all that apply",
    "spots": "places on the wheel",
    "order": "steps in order",
    "placement": "place four assemblies on the car",
    "text": "words, marked by you",
    "bench": "work at the bench",
}
"""What the student gives, by the kind of task. A kind without a line here is called by its own name."""

_EVERY = "“{assembly}” stands for the letter where the task asks every assembly."

_KEY = Words(
    "The right answer is", "Computed from each student’s own numbers. “Every assembly” asks the task of each."
)

WORDS = {
    "TaskSheet.id": Words("Id", hidden=True),
    "TaskSheet.title": Words("Title", "A few words, like “Where it goes”."),
    "TaskSheet.prompt": Words("Question", f"What the student is asked. {_EVERY}"),
    "TaskSheet.points": Words("Points", unit=""),
    "TaskSheet.explain": Words("Explanation", f"Shown with the mark. {MARKDOWN}", late=True),
    "TaskSheet.hints": Words("Hints", "Each may cost points.", entry="hint", late=True),
    "Hint.text": Words("Hint"),
    "Hint.cost": Words("Costs", unit="points"),
    "KeyedTask.key": _KEY,
    "ChoiceTask.key": _KEY,
    "SeveralTask.key": _KEY,
    "SpotsTask.keys": Words("The right places are", "Angles computed from each student’s own numbers."),
    "SpotsTask.tolerance": Words("Tolerance", "How far off a mark still counts."),
    "FollowingTask.follows": Words(
        "Builds on", "Used rightly, a wrong earlier answer still earns part of the points here.", late=True
    ),
    "FollowingTask.carried_share": Words(
        "Share for what follows rightly",
        "Of the points, 0 to 1, when an earlier wrong answer was used rightly.",
        unit="",
        late=True,
    ),
    **{
        f"{kind}.kind": Words("Kind", hidden=True)
        for kind in (
            "NumberTask",
            "SpotsTask",
            "ChoiceTask",
            "SeveralTask",
            "OrderTask",
            "PlacementTask",
            "TextTask",
            "BenchTask",
        )
    },
    "NumberTask.tolerance": Words("Tolerance", "How far off still counts as right; the wider of the two."),
    "Tolerance.absolute": Words("Plus or minus", "In g, g·mm, mm, N or degrees, as the answer is."),
    "Tolerance.relative": Words(
        "Or as a share of the right value", "Like 0.05 for five percent; not for angles.", unit=""
    ),
    "ChoiceTask.options": Words("Options", entry="option"),
    "ChoiceTask.right": Words("The right option", "Leave it empty where the right answer is computed."),
    "Option.id": Words(
        "Name of the option",
        "What a computed answer gives, like fit, replace, yes or no. Left empty, it is made from the text.",
    ),
    "Option.text": Words("Text"),
    "Option.because": Words("Why it is right or not", "Said to who chose it wrongly."),
    "SeveralTask.options": Words("Options", "Without any, the student ticks assemblies.", entry="option"),
    "SeveralTask.right": Words("The right options", "None ticked where the right answer is computed."),
    "OrderTask.steps": Words("Steps", "In one right order.", entry="step"),
    "Step.id": Words("Id", hidden=True),
    "Step.text": Words("What is done"),
    "Step.after": Words("Has to come after", "Only what matters: whatever keeps these is right."),
    "Step.because": Words("Why", "Given as the reason when the order is wrong."),
    "TextTask.rubric": Words(
        "What you mark by", "Not shown to students. Words, or criteria with points.", entry="criterion"
    ),
    "RubricCriterion.id": Words("Id", hidden=True),
    "RubricCriterion.text": Words("What to look for"),
    "RubricCriterion.points": Words("Points", unit=""),
    "RubricCriterion.levels": Words(
        "Levels", "How well it may be met. Without any, any points.", entry="level"
    ),
    "Level.text": Words("Level"),
    "Level.points": Words("Earns", unit="points"),
    "TextTask.longest": Words("Longest answer", unit="characters"),
    "BenchTask.judges": Words(
        "Judges",
        options={
            "residual": "unbalance left in each plane (g)",
            "force": "first harmonic of force left (N)",
            "pieces": "weights used",
            "spins": "spins used",
            "minutes": "minutes used",
            "rules": "rules of good work broken",
            "cautions": "unsafe work that was stopped",
            "comfort": "placement for comfort",
            "tracking": "placement for tracking",
            "torque": "torque at every corner",
            "numbers": "assemblies numbered inboard",
            "pressure": "pressure by the placard (kPa)",
        },
    ),
    "BenchTask.limit": Words(
        "What still counts", "In the unit named above, or as a count or share.", unit=""
    ),
}
