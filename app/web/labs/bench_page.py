"""What `labs/bench.html` and `labs/bench_fragment.html` receive as `page`."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from markupsafe import Markup

from app.domain.bench import AssemblyState, Beads, BenchState, Station
from app.domain.bench import actions as kinds
from app.domain.scenario import LabPart
from app.domain.tasks import BenchTask
from app.drawings import bench_stations
from app.drawings.bench_handles import Worked
from app.drawings.drawing import Drawing
from app.drawings.measured.job_card import JobCard, job_card
from app.services.bench import BenchView
from app.web.bench_log import Line, log_of
from app.web.bench_words import CORNERS, SHORT, STATIONS, stations_of
from app.web.forms import SendForm
from app.web.labs import bench_seen
from app.web.labs.bench_forms import Problem
from app.web.labs.bench_offer import Offer
from app.web.labs.bench_offers import offers_at
from app.web.labs.pages import seconds_left

MOST_LINES = 30


@dataclass(frozen=True)
class Token:
    """An assembly that can be carried. fields: what it is, for the form of the action that carries it."""

    letter: str
    fields: Mapping[str, str]

    @property
    def corner(self) -> str:
        """Where it is on the car, "" elsewhere."""
        return self.fields.get("corner", "")


@dataclass(frozen=True)
class Cell:
    """A station on the floor plan, with what stands there."""

    station: str
    name: str
    short: str
    does: str
    tokens: tuple[Token, ...]
    current: bool

    @property
    def takes(self) -> bool:
        """Whether an assembly can be carried to it; to the car it is carried in the car's own drawing."""
        return self.station != Station.CAR


@dataclass(frozen=True)
class BenchPage:
    """The bench as its student sees it. sent, problem: an action that could not be read, to be mended."""

    view: BenchView
    station: Station
    form: SendForm
    sent: Mapping[str, str]
    problem: Problem | None = None
    notice: str = ""
    """Why nothing was done, where no form is to blame."""

    @cached_property
    def token(self) -> Markup:
        """The field with the form's token, written once for all the forms of the page."""
        return Markup(self.form.csrf_token)  # noqa: S704 -- the field escapes its value

    @property
    def state(self) -> BenchState:
        return self.view.run.state

    @property
    def number(self) -> int:
        return self.view.run.number

    @property
    def name(self) -> str:
        return STATIONS[self.station][0]

    @property
    def does(self) -> str:
        return STATIONS[self.station][1]

    @cached_property
    def cells(self) -> tuple[Cell, ...]:
        return tuple(
            Cell(
                each.value,
                STATIONS[each][0],
                SHORT.get(each, STATIONS[each][0]),
                STATIONS[each][1],
                self._tokens_at(each),
                each is self.station,
            )
            for each in stations_of(self.view.variant)
        )

    def _tokens_at(self, station: Station) -> tuple[Token, ...]:
        return tuple(_token(each) for each in self.state.assemblies if _stands_at(each, station))

    @property
    def tray(self) -> tuple[Token, ...]:
        """Assemblies that can be carried to the car from where they stand."""
        return tuple(_token(each) for each in self.state.assemblies if each.where not in CORNERS)

    @cached_property
    def assembly(self) -> AssemblyState | None:
        """What stands at a station that takes one."""
        return None if self.station in (Station.RACK, Station.CAR) else self.state.at(self.station)

    @cached_property
    def offers(self) -> tuple[Offer, ...]:
        beside = {"weights": self._section, "lugs": self._lugs}
        offers = tuple(
            replace(offer, drawing=beside[offer.id]() if offer.id in beside else None)
            for offer in offers_at(self.station, self.view.variant, self.state, self.view.run.done)
        )
        if self.problem is None:
            return offers
        return tuple(offer.mended(self.sent, self.problem) for offer in offers)

    @property
    def misplaced_problem(self) -> str:
        """A problem whose form is no longer on the page."""
        if self.problem is None:
            return ""
        here = any(form.problems for offer in self.offers for form in offer.forms)
        return "" if here else self.problem.message

    @cached_property
    def worked(self) -> Worked | None:
        return bench_seen.worked_drawing(self.station, self.view.variant, self.state, self.view.run.done)

    def _section(self) -> Worked | None:
        """Where a weight goes on the wheel that stands here."""
        if self.assembly is None:
            return None
        return bench_seen.section_of(self.view.variant, self.assembly, self.view.run.done)

    def _lugs(self) -> Worked | None:
        """The lugs of a wheel on the car, with the order in which some were tightened last."""
        sheet = self.view.variant.scenario.bench
        if sheet is None:
            return None
        orders = [each.action.order for each in self.view.run.done if isinstance(each.action, kinds.Tighten)]
        return bench_stations.lugs(sheet.lug_count, orders[-1] if orders else ())

    @property
    def jobs(self) -> list[tuple[LabPart, list[BenchTask]]]:
        """The parts of the lab that are done here: what to do, and what is judged by what is left here."""
        parts = self.view.variant.scenario.lab_parts
        goals = [(part, [task for task in part.tasks if isinstance(task, BenchTask)]) for part in parts]
        return [(part, tasks) for part, tasks in goals if tasks]

    @property
    def in_parts(self) -> list[str]:
        """The assemblies whose tire lies beside the wheel, which anybody sees."""
        return [each.id for each in self.state.assemblies if each.beads is Beads.OFF]

    @cached_property
    def newest(self) -> tuple[Line, ...]:
        """The part of the log that is sent with every action, the newest first."""
        return log_of(self.view.variant, self.view.run, most=MOST_LINES)

    @property
    def lines(self) -> int:
        """Of the whole log."""
        return len(self.view.run.done)

    @property
    def last(self) -> Line | None:
        return self.newest[0] if self.newest else None

    @property
    def elsewhere(self) -> str:
        """The station at which the last action was done, if it is another one."""
        at = self.last.done.action.AT if self.last else ()
        return "" if not at or self.station in at else STATIONS[at[0]][0].lower()

    @cached_property
    def drawing_seen(self) -> Drawing | None:
        """The drawing of what was seen last, unless the station shows it itself."""
        if (
            self.last is None
            or self.elsewhere
            or (self.station is Station.ROLLER and self.worked is not None)
        ):
            return None
        return bench_seen.observed_drawing(self.last.done.observation, self.view.variant)

    @property
    def dial(self) -> list[tuple[str, str]]:
        if self.station is not Station.GAUGE:
            return []
        return bench_seen.dial_so_far(self.view.run.done)

    @property
    def facts(self) -> list[tuple[str, str]]:
        return _counts(self.state)

    @property
    def seconds_left(self) -> int:
        """Of a lab that has an end, on the server's clock; 0 of any other."""
        return seconds_left(self.view.ends_at)

    @property
    def card(self) -> JobCard:
        return job_card(self.view.variant)


@dataclass(frozen=True)
class BenchLogPage:
    """Everything that was done, to be read; with the rules that it broke once the lab is handed in."""

    view: BenchView

    @cached_property
    def log(self) -> tuple[Line, ...]:
        return log_of(self.view.variant, self.view.run, with_rules=self.view.handed_in)

    @property
    def facts(self) -> list[tuple[str, str]]:
        return _counts(self.view.run.state)


def _counts(state: BenchState) -> list[tuple[str, str]]:
    return [
        ("Lab clock", f"{state.minutes:g} min"),
        ("Actions", str(state.number)),
        ("Spins", str(state.spins)),
        ("Weights used", str(state.pieces)),
        ("Work stopped", str(len(state.cautions))),
    ]


def _stands_at(assembly: AssemblyState, station: Station) -> bool:
    return assembly.where == station or (station is Station.CAR and assembly.where in CORNERS)


def _token(assembly: AssemblyState) -> Token:
    on_the_car = {"corner": assembly.where} if assembly.where in CORNERS else {}
    return Token(assembly.id, {"assembly": assembly.id, **on_the_car})


def station_named(name: str | None, view: BenchView) -> Station:
    """The station that an address asks for; without one, where the work went on last."""
    here = stations_of(view.variant)
    asked = next((each for each in here if each.value == name), None)
    return asked or station_after(view) or here[0]


def station_after(view: BenchView) -> Station | None:
    """Where the newest action that tells a place was done."""
    for done in reversed(view.run.done):
        match done.action:
            case kinds.Bring(to=to) if not done.observation.refused:
                return Station(to)
            case action if action.AT:
                return action.AT[0]
    return None
