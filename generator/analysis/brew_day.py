"""The brew day in its order: every step of the plan, and when it comes on a clock that starts at mash-in."""

from dataclasses import dataclass, field, replace
from itertools import groupby, pairwise
from typing import Any, Literal

from generator.analysis.plan_view import PlanView
from generator.records.models import Good, Hop, Task
from generator.records.schedule import DAY, Moment, moment

Kind = Literal[
    "prepare", "mash-in", "portion", "rest", "task", "run-off", "kettle", "boil", "addition", "boil-end", "stand", "chill", "pitch", "check",
    "later", "still", "package",
]  # fmt: skip
_RANK: dict[Kind, int] = {
    "prepare": 0, "mash-in": 1, "portion": 2, "rest": 3, "run-off": 5, "kettle": 6, "boil": 7, "addition": 8, "boil-end": 10, "stand": 11,
    "chill": 13, "pitch": 14, "check": 15, "later": 16, "still": 17, "package": 18,
}  # fmt: skip
"""Which of two steps of one minute comes first; a task comes just before the step that closes its stage."""
_TASK_RANK = {"mash": 4, "sparge": 5, "boil": 9, "stand": 12, "chill": 13, "pitch": 14, "package": 19}

Allowance = Literal["portion", "warming", "rest", "run-off", "sparge", "heating", "boil", "cooling", "chill"]
ALLOWED: dict[Allowance, float] = {
    "portion": 10.0, "warming": 1.0, "rest": 60.0, "run-off": 30.0, "sparge": 60.0, "heating": 30.0, "boil": 60.0, "cooling": 10.0, "chill": 45.0,
}  # fmt: skip
"""Minutes that the clock allows where a plan says nothing (`warming`: for each °C between two rests). The project's own rule of thumb."""
STAND_NEEDS_COOLING = 95.0
"""°C; a stand below it waits for the wort."""
FIRST_CHECK, BETWEEN_CHECKS = 3 * DAY, 2 * DAY
"""Minutes from the pitch to the first gravity, and between the two that must agree. Common practice."""
_LATER, _STILL, _PACKAGE = 1e7, 1e8, 1e9
"""Places in the order of what has no date, beyond every date of a plan."""
_ON_THE_CLOCK = 720.0
"""Minutes: what lies further from the pitch is told in days, and what is done earlier than that before the mash comes before the liquor is heated."""


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the day."""

    kind: Kind
    minutes: float
    """After 0:00; a place in the order where `undated`."""
    rank: int
    """Which of two steps of one minute comes first."""
    rough: bool = False
    """Whether the clock stands on an allowance by then."""
    days: float | None = None
    """After the pitch, where it is told in days."""
    undated: bool = False
    before_end: float | None = None
    """Minutes before the end of the boil or of the stand."""
    goods: tuple[Good, ...] = ()
    hops: tuple[Hop, ...] = ()
    temperature: float | None = None
    """°C of a rest, of a stand, or of the pitch; None where the plan doesn't say."""
    duration: float | None = None
    """Minutes of a rest, of the boil or of a stand; None where the plan doesn't say."""
    number: int = 1
    of: int = 1
    text: str = ""
    """A task in the brewer's words."""
    written: str = ""
    """When, in the brewer's words."""


@dataclass(frozen=True, slots=True)
class Day:
    """A plan in its order."""

    zero: Literal["mash-in", "heat"]
    """What 0:00 is: grain meets liquor, or heat under the kettle where nothing is mashed."""
    steps: tuple[Step, ...]
    free: tuple[Task, ...]
    """Tasks whose time is free words."""
    allowances: tuple[Allowance, ...]
    """On which the clock stands."""

    def of(self, kind: Kind) -> Step | None:
        """The first step of a kind."""
        return next((step for step in self.steps if step.kind == kind), None)


def brew_day(view: PlanView) -> Day:
    """Every step of a plan, in its order.

    Args:
        view: the plan beside its brewhouse.
    """
    return _Planner(view).day()


@dataclass
class _Planner:
    """Lays one step after the other along the clock."""

    view: PlanView
    now: float = 0.0
    steps: list[Step] = field(default_factory=list)
    used: set[Allowance] = field(default_factory=set)
    rough_after: float = float("inf")
    """Minute of the first allowance."""
    starts: dict[str, float] = field(default_factory=lambda: {"mash": 0.0, "sparge": 0.0})
    boil_end: float = 0.0

    def day(self) -> Day:
        """All of it."""
        mashes = bool(self.view.mashed) or not self.view.plan.grist
        if mashes:
            self._add("prepare", minutes=-_ON_THE_CLOCK, undated=True)
            self._mash()
            self._run_off()
        self._add("kettle", goods=self.view.boiled)
        self._allow("heating")
        self._boil(() if mashes else self._hops("first wort"))
        self._stands()
        self._cold()
        self._fermenter()
        free = tuple(task for task in self.view.plan.task if not self._placed(task))
        ordered = sorted(self.steps, key=lambda step: (step.minutes, step.rank))
        steps = tuple(replace(step, rough=step.minutes > self.rough_after and not step.undated) for step in ordered)
        return Day("mash-in" if mashes else "heat", steps, free, tuple(name for name in ALLOWED if name in self.used))

    def _add(self, kind: Kind, *, minutes: float | None = None, **more: Any) -> None:
        self.steps.append(Step(kind, self.now if minutes is None else minutes, **({"rank": _RANK.get(kind, 0)} | more)))

    def _allow(self, name: Allowance, times: float = 1.0) -> None:
        if times > 0.0:
            self.rough_after = min(self.rough_after, self.now)
            self.now += ALLOWED[name] * times
            self.used.add(name)

    def _pass(self, minutes: float | None, otherwise: Allowance) -> None:
        """Let planned minutes go by, or an allowance where the plan gives none."""
        if minutes is None:
            self._allow(otherwise)
        else:
            self.now += minutes

    def _hops(self, added: str) -> tuple[Hop, ...]:
        return tuple(hop for hop in self.view.plan.hops if hop.added == added)

    def _mash(self) -> None:
        plan = self.view.plan
        portions = plan.mash.portions
        rests: list[tuple[float | None, float | None]] = [(rest.temperature, rest.duration) for rest in plan.rest]
        rests = rests or [(plan.target.mash_temperature, None)]
        for number in range(1, portions + 1):
            if number > 1:
                self._pass(plan.mash.interval, "portion")
            hold = rests[0] if number == portions else (None, None)
            kind: Kind = "mash-in" if number == 1 else "portion"
            self._add(kind, goods=self.view.mashed, number=number, of=portions, temperature=hold[0], duration=hold[1])
        self._pass(rests[0][1], "rest")
        for number, (before, (temperature, duration)) in enumerate(pairwise(rests), 2):
            self._allow("warming", max(0.0, (temperature or 0.0) - (before[0] or 0.0)))
            self._add("rest", number=number, of=len(rests), temperature=temperature, duration=duration)
            self._pass(duration, "rest")

    def _run_off(self) -> None:
        self.starts["sparge"] = self.now
        self._add("run-off", hops=self._hops("first wort"))
        self._allow("sparge" if self.view.plan.liquor.sparge > 0.0 else "run-off")

    def _boil(self, first: tuple[Hop, ...]) -> None:
        """The boil and its hops; `first` go in before it where there is no mash to run off."""
        length = self.view.plan.boil.duration
        hops = sorted(self._hops("boil"), key=lambda hop: -(hop.time or 0.0))
        begin = self.starts["boil"] = self.now
        self._add("boil", duration=length, hops=first)
        self._pass(length, "boil")
        self.boil_end = self.now
        for minutes, group in groupby(hops, key=lambda hop: hop.time or 0.0):
            self._add("addition", minutes=max(begin, self.boil_end - minutes), before_end=minutes, hops=tuple(group))
        self._add("boil-end")

    def _stands(self) -> None:
        hops = sorted(self._hops("stand"), key=lambda hop: (-(hop.temperature or 0.0), -(hop.time or 0.0)))
        self.starts["stand"] = self.now
        for temperature, of_one in groupby(hops, key=lambda hop: hop.temperature or 0.0):
            group = list(of_one)
            if temperature < STAND_NEEDS_COOLING:
                self._allow("cooling")
            length = group[0].time or 0.0
            for minutes, several in groupby(group, key=lambda hop: hop.time or 0.0):
                at = self.now + length - minutes
                self._add("stand", minutes=at, before_end=minutes, duration=length, temperature=temperature, hops=tuple(several))
            self.now += length
        if hops:
            self.starts["stand"] = next(step.minutes for step in self.steps if step.kind == "stand")

    def _cold(self) -> None:
        plan = self.view.plan
        self.starts["chill"] = self.now
        self._add("chill", temperature=plan.yeast.temperature)
        self._allow("chill")
        self.starts["pitch"] = self.now
        self._add("pitch", temperature=plan.yeast.temperature)
        told = moment(plan.package.when) if plan.package.when else None
        packaged = None if told is None else told.minutes
        self.starts["package"] = _PACKAGE if packaged is None else self.now + packaged
        self._after("package", packaged, _PACKAGE)
        if packaged is None or packaged >= FIRST_CHECK + BETWEEN_CHECKS:
            self._after("check", FIRST_CHECK, _LATER)
        self._after("still", None if packaged is None else max(packaged - BETWEEN_CHECKS, 0.0), _STILL)

    def _fermenter(self) -> None:
        """What goes into the fermenter after the pitch: each with its day, the others together."""
        without = []
        for hop in self._hops("fermenter"):
            told = moment(hop.when) if hop.when else None
            if told is None:
                without.append(hop)
            else:
                self._told("later", told, hops=(hop,), written=hop.when)
        goods = tuple(good for good in self.view.plan.grist if good.added == "fermenter")
        if goods or without:
            place = min(self.now + FIRST_CHECK, self.starts["package"]) if self.starts["package"] < _LATER else _LATER
            self._after("later", None, place, goods=goods, hops=tuple(without))

    def _after(self, kind: Kind, minutes: float | None, place: float, **more: Any) -> None:
        """A step so long after the pitch, or one without a date at its place in the order."""
        if minutes is None:
            self._add(kind, minutes=place, undated=True, **more)
        else:
            self._add(kind, minutes=self.now + minutes, days=minutes / DAY, **more)

    def _placed(self, task: Task) -> bool:
        """Put a task on the clock; False where its time is free words."""
        told = moment(task.when)
        if told is not None:
            self._told("task", told, text=task.text, written=task.when, rank=_TASK_RANK[told.step])
        return told is not None

    def _told(self, kind: Kind, told: Moment, **more: Any) -> None:
        """A step whose time is told from another one."""
        at = (self.boil_end if told.from_end else self.starts[told.step]) + told.minutes
        since = at - self.starts["pitch"]
        undated = at >= _LATER
        in_days = told.step in ("pitch", "package") and abs(since) >= _ON_THE_CLOCK and not undated
        before_end = -told.minutes if told.from_end else None
        self._add(kind, minutes=at, undated=undated, days=since / DAY if in_days else None, before_end=before_end, **more)
