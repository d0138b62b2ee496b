"""The methods and the safety page."""

from generator.analysis import prediction
from generator.analysis.alternatives import THINNEST_BED
from generator.analysis.doubt import DRAWS, SOURCE
from generator.pages.contracts import MethodsPage, SafetyPage
from generator.pages.methods import chapters, cited
from generator.pages.safety import HAZARDS, rules
from generator.pages.site_map import SiteMap
from generator.sources import citation


def methods_page(site: SiteMap) -> MethodsPage:
    """methods.html: made from the docstrings of the code that computes."""
    return MethodsPage(
        site.shell("Methods", "Every formula of this journal in words and symbols, with its range and its source.", "methods.html", "methods.html"),
        "Methods",
        "Every formula in words and symbols, with its range and its source",
        f"{DRAWS:,}",
        f"{prediction.DRAWS:,}",
        f"{THINNEST_BED:g}",
        citation(SOURCE),
        chapters(),
        cited(),
    )


def safety_page(site: SiteMap) -> SafetyPage:
    """safety.html."""
    used = {key for hazard in HAZARDS for key in hazard.sources}
    return SafetyPage(
        site.shell("Safety", "What hurts people who brew, and the usual cautions, each with its source.", "safety.html", "safety.html"),
        "Safety",
        "What hurts people who brew. Local codes and licensed practice come first",
        HAZARDS,
        {hazard.anchor: rules(hazard.anchor) for hazard in HAZARDS},
        {key: source for key, source in cited().items() if key in used},
    )
