"""Rewrite plan.toml, readings.csv and gravity-log.csv of every demo batch: python -m tests.demo.simulate."""

import sys
from pathlib import Path

from tests.demo.plans import JOURNAL, predict
from tests.demo.scenario import Scenario
from tests.demo.scenarios import SCENARIOS
from tests.demo.truth import alcohol


def write(journal: Path) -> None:
    """Write the simulated files below a journal folder; journal.toml, brewhouses and notes are typed by hand."""
    for scenario in SCENARIOS:
        folder = journal / scenario.slug
        folder.mkdir(parents=True, exist_ok=True)
        for name, text in scenario.files().items():
            (folder / name).write_text(text, encoding="utf-8", newline="\n")


def summary(scenario: Scenario) -> str:
    """Return one line: plan and truth side by side."""
    plan, predicted = scenario.plan, predict(scenario.plan)
    planned = plan.target("original_gravity") or predicted.original_gravity
    line = (
        f"{scenario.slug:30} plan OG {planned:.4f} (predicted {predicted.original_gravity:.4f}, {predicted.mash_efficiency:.1f} %) "
        f"FG {plan.target('final_gravity') or 0:.4f} ({predicted.final_gravity:.4f}) pre-boil {predicted.pre_boil_volume:.1f} L "
        f"(run-off {predicted.run_off:.1f})"
    )
    if scenario.hidden is None:
        return line
    true = scenario.course()
    final = true.gravity(400.0)
    return (
        f"{line} | true {true.first_wort:.4f} {true.pre_boil_volume:.1f} L {true.pre_boil_gravity:.4f} {true.mash_efficiency:.1f} % "
        f"{true.post_boil_volume:.1f} L {true.original_gravity:.4f} {true.fermenter_volume:.1f} L "
        f"FG {final:.4f} {alcohol(true.original_gravity, final):.1f} % {true.package_volume:.1f} L"
    )


if __name__ == "__main__":
    write(JOURNAL)
    if "--table" in sys.argv:
        print("\n".join(summary(scenario) for scenario in SCENARIOS))
