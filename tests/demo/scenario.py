"""What one demo batch is made of."""

from dataclasses import dataclass, field
from datetime import datetime

from tests.demo.instruments import Bench
from tests.demo.logger import Logger
from tests.demo.plans import Plan
from tests.demo.readings import Row, Style, readings_csv
from tests.demo.truth import Course, Hidden, course


@dataclass(frozen=True, slots=True)
class Scenario:
    """A plan, the brew day as it really went and the rows that were written down."""

    slug: str
    plan: Plan
    hidden: Hidden | None = None
    """None for a batch that is only planned."""
    rows: tuple[Row, ...] = ()
    style: Style = field(default_factory=Style)
    seed: int = 0
    calibrated_at: float = 20.0
    """°C, the hydrometer's."""
    logger: Logger | None = None

    def course(self) -> Course:
        """Return the true batch."""
        assert self.hidden is not None, f"{self.slug} is not brewed yet"
        return course(self.plan, self.hidden)

    def files(self) -> dict[str, str]:
        """Return the batch's files by name."""
        files = {"plan.toml": self.plan.text}
        if self.hidden is not None:
            bench = Bench(self.seed, self.calibrated_at)
            files["readings.csv"] = readings_csv(self.rows, self.course(), bench, self.style)
        if self.logger is not None:
            files["gravity-log.csv"] = self.logger.text(self.course())
        return files


def at(text: str) -> datetime:
    """Return an ISO 8601 time."""
    return datetime.fromisoformat(text)
