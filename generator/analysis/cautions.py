"""Cautions: rules as data. Each has a threshold with two tests, a source, and defers to local codes."""

from generator.analysis.safety import cleaning, cold, drinking, heat, hot, packaged
from generator.analysis.safety.cold import carbon_dioxide_grams, change_in_words
from generator.analysis.safety.facts import Caution, Facts, Rule, Severity
from generator.analysis.safety.heat import wet_grain
from generator.records.vocabulary import STAGES

__all__ = ["RULES", "Caution", "Facts", "Rule", "Severity", "carbon_dioxide_grams", "cautions", "change_in_words", "wet_grain"]

RULES: tuple[Rule, ...] = tuple(
    sorted(
        (*cold.RECORDS, *hot.RULES, *heat.RULES, *cleaning.RULES, *cold.RULES, *packaged.RULES, *drinking.RULES),
        key=lambda rule: STAGES.index(rule.stage),
    )
)
"""In the order of a brew."""


def cautions(facts: Facts) -> tuple[Caution, ...]:
    """The cautions that stand for a batch, in the order of a brew."""
    return tuple(Caution(rule.slug, rule.severity, rule.stage, text, rule.source) for rule in RULES if (text := rule.says(facts)) is not None)
