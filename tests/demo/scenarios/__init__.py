"""The twelve demo batches, by recipe."""

from tests.demo.scenario import Scenario
from tests.demo.scenarios import far_bank, fog_bell, halfpenny_toll, long_rope, low_cable

SCENARIOS: tuple[Scenario, ...] = tuple(
    sorted(
        (*halfpenny_toll.BATCHES, *fog_bell.BATCHES, *low_cable.BATCHES, *far_bank.BATCHES, *long_rope.BATCHES),
        key=lambda scenario: scenario.slug,
    )
)
