"""Whether the readings show that the fermentation was over when the beer was packaged."""

from generator.analysis.course import Course
from generator.analysis.safety.facts import Facts

_MOST_HOURS = 480.0
"""Beyond them two readings are told apart in days."""


def not_shown_stable(facts: Facts) -> str | None:
    """Why the readings don't show a stable gravity at the packaging, as sentences; None where they do, or nothing was packaged yet."""
    if not any(row.stage == "package" for row in facts.batch.readings):
        return None
    found = facts.course
    if found is None:
        return "no gravity with its time was read after the fermentation began."
    state = found.state
    if state.slug == "stable":
        return None
    return f"by them it was “{state.words}”. {state.why}{_last_two(found)}"


def _last_two(found: Course) -> str:
    """The last two readings by hand and the time between them; blank where a logger stands for them, or only the first gravity was read."""
    if found.logger is not None or len(found.hand.days) < 2:
        return ""
    (before, last), hours = found.hand.gravity[-2:], 24.0 * float(found.hand.days[-1] - found.hand.days[-2])
    apart = f"{hours:.0f} hours" if hours <= _MOST_HOURS else f"{hours / 24.0:.0f} days"
    return f" The last two gravities, {before:.3f} and {last:.3f}, lie {apart} apart."
