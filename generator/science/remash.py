"""Mashing and draining step by step, and a second mash in the wort of the first."""

from typing import NamedTuple

import numpy as np

from generator.science import sucrose, water
from generator.science._values import Values, newton, require


class Liquor(NamedTuple):
    """What grain is mashed in: water, or the wort of an earlier mash."""

    water: Values
    """kg."""
    extract: Values = 0.0
    """kg."""


class Portion(NamedTuple):
    """Grist that is mashed at one time."""

    mass: Values
    """kg as weighed."""
    extract: Values
    """kg per kg as weighed."""
    moisture: Values
    """kg per kg as weighed."""
    conversion: Values
    """Share of the extract that dissolves."""
    sparge: Values = 0.0
    """kg of water that is poured on after draining, stirred in and drained."""


class Runnings(NamedTuple):
    """A mash and what ran off it; volumes at 20 °C."""

    mash_liquid: Values
    """L of liquid in the mash, before it is drained."""
    first_wort: Values
    """°P of that liquid."""
    first_volume: Values
    """L that run off before the sparge."""
    first_extract: Values
    """kg in them."""
    second_wort: Values
    """°P of what the sparge runs off with, and of what the grain keeps."""
    volume: Values
    """L of all that runs off, together."""
    wort: Values
    """°P of it."""
    water: Values
    """kg of water in it."""
    extract: Values
    """kg of extract in it."""


def mash_and_drain(liquor: Liquor, portion: Portion, retention: Values) -> Runnings:
    """Runnings of a mash that is drained once and sparged at most once.

    What is dissolved already and what the grist gives are one well mixed liquid; the grain keeps a volume of it for each
    kilogram. Sparge water mixes with what is kept, and the grain keeps the same volume again.

    Formula:
        E = Eₗ + c·e·m, W = Wₗ + μ·m, P = 100 · E / (W + E), V = (W + E) / ρ(P)
        K = a·m·ρ(P) stays, W + E − K runs off
        P₂ = P · K / (K + S), K + S − a·m·ρ(P₂) runs off after the sparge
    Args:
        liquor: Wₗ and Eₗ, kg of water and of extract; floats or arrays.
        portion: m in kg, e, μ and c as fractions, S in kg; broadcastable.
        retention: a, L of wort left per kg of grist; broadcastable.
    Returns:
        Volumes in L at 20 °C, strengths in °P, masses in kg.
    Valid:
        Fully mixed and fully drained mashes; strong liquor may convert less than c, which no formula here knows.
    Raises:
        OutOfRangeError: no liquor, a negative mass, a fraction outside its range, nothing that runs off, or a wort above 65 °P.
    Source:
        lauter-mass-balance; icumsa-sps-4
    """
    _check(liquor, portion, retention)
    extract = liquor.extract + portion.conversion * portion.extract * portion.mass
    liquid = liquor.water + portion.moisture * portion.mass + extract
    strength = 100.0 * extract / liquid
    kept_volume = retention * portion.mass
    kept = kept_volume * sucrose.density(strength)
    volume = liquid / sucrose.density(strength)
    require(volume - kept_volume, 1e-9, 1e9, "a first running", "L")
    refilled = kept + portion.sparge
    weaker = strength * kept / np.maximum(refilled, 1e-12)
    sparged = refilled - kept_volume * sucrose.density(weaker)
    first = (liquid - kept) * strength / 100.0
    collected = first + sparged * weaker / 100.0
    mass = liquid - kept + sparged
    wort = 100.0 * collected / mass
    together = mass / sucrose.density(wort)
    return Runnings(volume, strength, volume - kept_volume, first, weaker, together, wort, mass - collected, collected)


def successive_mashes(liquor: Values, first: Portion, second: Portion, retention: Values) -> tuple[Runnings, Runnings]:
    """Runnings of two mashes, the second in the wort of the first.

    The grist is split and mashed one portion after the other, so that a vessel makes a wort whose grist it couldn't hold at
    once. The first grain keeps a weak wort and the second a strong one, and what the first portion gave passes through both.
    Without sparges, with Vᵢ the liquid of mash i and rᵢ the share of it that its grain keeps:

    Formula:
        r₁ = a·m₁/V₁, r₂ = a·m₂/V₂
        E = (1 − r₂) · ((1 − r₁) · c₁·e₁·m₁ + c₂·e₂·m₂) is collected
        r₁ · c₁·e₁·m₁ stays in the first grain; r₂ · ((1 − r₁) · c₁·e₁·m₁ + c₂·e₂·m₂) in the second
        the same for the water: W = (1 − r₂) · ((1 − r₁) · (L + μ₁·m₁) + μ₂·m₂)
    Args:
        liquor: L, kg of water for the first mash; float or array.
        first: portion that is mashed in it; broadcastable.
        second: portion that is mashed in what runs off; broadcastable.
        retention: a, L of wort left per kg of grist; broadcastable.
    Returns:
        Runnings of the first and of the second mash; those of the second are the wort before the boil.
    Valid:
        As mash_and_drain, which is applied twice, each with its sparge.
    Raises:
        OutOfRangeError: as mash_and_drain.
    Source:
        lauter-mass-balance; icumsa-sps-4
    """
    one = mash_and_drain(Liquor(liquor), first, retention)
    return one, mash_and_drain(Liquor(one.water, one.extract), second, retention)


def liquor_of_successive_mashes(volume: Values, first: Portion, second: Portion, retention: Values) -> Values:
    """Mash liquor for the first of two successive mashes that gives the wanted volume before the boil.

    Formula:
        L such that the runnings of the second mash are V, found by iteration
    Args:
        volume: V, L before the boil at 20 °C; float or array.
        first: portion mashed first; broadcastable.
        second: portion mashed in the first's wort; broadcastable.
        retention: a, L of wort left per kg of grist; broadcastable.
    Returns:
        L, kg of water.
    Valid:
        As mash_and_drain; solved to 1e-12 kg.
    Raises:
        OutOfRangeError: a volume of 0, no such liquor, or as mash_and_drain.
    Source:
        lauter-mass-balance; icumsa-sps-4
    """
    require(volume, 1e-9, 1e9, "a volume before the boil", "L")
    litre = water.density(20.0)
    guess = litre * (volume + retention * (first.mass + second.mass)) - first.sparge - second.sparge
    return newton(lambda kg: (successive_mashes(kg, first, second, retention)[1].volume, 1.0 / litre), volume, guess, tolerance=1e-12, most_steps=60)


def _check(liquor: Liquor, portion: Portion, retention: Values) -> None:
    """Raise OutOfRangeError for what no mash can be."""
    require(liquor.water, 1e-9, 1e9, "a mass of liquor", "kg")
    require(liquor.extract, 0.0, 1e9, "an extract in the liquor", "kg")
    require(portion.mass, 0.0, 1e9, "a mass of grist", "kg")
    require(portion.extract, 0.0, 1.5, "an extract", "kg/kg")
    require(portion.moisture, 0.0, 1.0, "a moisture", "kg/kg")
    require(portion.conversion, 0.0, 2.0, "a conversion", "(fraction)")
    require(portion.sparge, 0.0, 1e9, "a mass of sparge liquor", "kg")
    require(retention, 0.0, 1e3, "a retention", "L/kg")
