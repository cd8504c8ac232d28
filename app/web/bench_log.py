"""The log of a bench in words: each action with its time, what was seen, and what it led to."""

from dataclasses import dataclass

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


def log_of(variant: Variant, run: Run, *, with_rules: bool = False) -> tuple[Line, ...]:
    """Every action so far, the newest first. with_rules: once the work is judged."""
    lines: list[Line] = []
    minute = 0.0
    for number, done in enumerate(run.done, start=1):
        minute += done.observation.minutes
        cautions = tuple(CAUTION_WORDS[Caution(each)] for each in done.observation.cautions)
        broken = [RULES[each.rule] for each in run.state.broken if with_rules and each.at == number]
        words = action_words(done.action, variant)
        thrown = (
            set()
            if with_rules
            else WHY_THROWN.keys() & {each.rule for each in run.state.broken if each.at == number}
        )
        text = " ".join((_seen_words(done), *(WHY_THROWN[each] for each in sorted(thrown))))
        lines.append(Line(number, minute, words, text, done, cautions, tuple(broken)))
    return tuple(reversed(lines))


def _seen_words(done: Done) -> str:
    """What was seen; a look is told by the name that its button has."""
    match done.action:
        case kinds.Look(assembly=letter, at=at) if not done.observation.refused:
            return f"You look at assembly {letter}: {LOOKS[at].lower()}."
    return done.observation.text
