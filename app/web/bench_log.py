"""The log of a bench in words: each action with its time, what was seen, and what it led to."""

from dataclasses import dataclass
from itertools import accumulate, islice

from app.domain.bench import RULES
from app.domain.bench import actions as kinds
from app.domain.cautions import CAUTION_WORDS, CautionWords
from app.domain.scenario import Caution
from app.domain.variants import Variant
from app.services.bench import Done, Run
from app.web.bench_words import LOOKS, action_words

WHY_THROWN = {
    "clip-thrown": "Does the clip that flew off fit the lip of this rim?",
    "strip-thrown": "Was the rim clean where the strip that flew off was stuck?",
}
"""What to look at when a weight flew off; why it did is judged at the end."""


@dataclass(frozen=True)
class Line:
    """One action. number: counted from 1; minute: on the lab's clock when it was done.

    words: what was done; text: what came of it. rules: those of good work that it broke, in words.
    """

    number: int
    minute: float
    words: str
    text: str
    done: Done
    cautions: tuple[CautionWords, ...]
    rules: tuple[str, ...] = ()

    @property
    def refused(self) -> bool:
        return self.done.observation.refused

    @property
    def says_all(self) -> bool:
        """Whether its two sentences hold everything that was seen, so that nobody has to look up the rest."""
        seen = self.done.observation
        return not seen.cautions and all(fact.value in f"{self.words} {seen.text}" for fact in seen.facts)


def log_of(
    variant: Variant, run: Run, *, with_rules: bool = False, most: int | None = None
) -> tuple[Line, ...]:
    """Every action so far, or the newest `most` of them, the newest first. with_rules: once the work is
    judged."""
    minutes = accumulate(done.observation.minutes for done in run.done)
    newest_first = reversed(list(enumerate(zip(run.done, minutes, strict=True), start=1)))
    return tuple(
        _line(variant, run, number, minute, done, with_rules=with_rules)
        for number, (done, minute) in islice(newest_first, most)
    )


def _line(variant: Variant, run: Run, number: int, minute: float, done: Done, *, with_rules: bool) -> Line:
    broken = [each.rule for each in run.state.broken if each.at == number]
    cautions = tuple(CAUTION_WORDS[Caution(each)] for each in done.observation.cautions)
    thrown = set() if with_rules else WHY_THROWN.keys() & set(broken)
    text = " ".join((_seen_words(done), *(WHY_THROWN[each] for each in sorted(thrown))))
    rules = tuple(RULES[each] for each in broken) if with_rules else ()
    return Line(number, minute, action_words(done.action, variant), text, done, cautions, rules)


def _seen_words(done: Done) -> str:
    """What was seen; a look is told by the name that its button has."""
    match done.action:
        case kinds.Look(assembly=letter, at=at) if not done.observation.refused:
            return f"You look at assembly {letter}: {LOOKS[at].lower()}."
    return done.observation.text
