"""Instruments of the demo journal: from the truth to what the scale, the glass or the display said."""

import random
from dataclasses import dataclass, field

import numpy as np

from generator.science import beer, hydrometer, refractometer, sucrose, water
from tests.demo.quantities import in_unit, rounded

DEFAULT_STEPS = {
    "L": "0.1", "gal": "0.05", "qt": "0.25", "kg": "0.01", "g": "1", "lb": "0.05", "oz": "0.1",
    "°C": "0.5", "°F": "1", "SG": "0.001", "°P": "0.1", "°Bx": "0.1", "min": "1", "": "0.05",
}  # fmt: skip
"""What one more mark of each instrument is worth; the blank unit is a pH meter."""


@dataclass(frozen=True, slots=True)
class Noise:
    """Standard uncertainties: about the half of the doubts that the brewhouse files state."""

    gravity: float = 0.00045
    """SG."""
    brix: float = 0.08
    """°Bx."""
    volume: float = 0.009
    """Relative."""
    mass: float = 0.0025
    """Relative."""
    temperature: float = 0.2
    """°C."""
    ph: float = 0.03


def hydrometer_reading(sg: float, sample: float, calibrated_at: float) -> float:
    """Return what a hydrometer shows in wort of SG 20/20 `sg` at `sample` °C: the inverse of the correction."""
    density = float(sucrose.density(sucrose.extract_from_sg(sg), sample))
    glass = 1.0 + hydrometer.GLASS_EXPANSION * (sample - calibrated_at)
    return density * glass / float(water.density(calibrated_at))


def refractometer_reading(sg: float, original: float | None, wort_factor: float) -> float:
    """Return the °Bx of wort (no original gravity given) or of beer; gravities in SG 20/20."""
    if original is None:
        return float(sucrose.extract_from_sg(sg)) * wort_factor
    extract = float(sucrose.extract_from_sg(original))
    abw = float(beer.alcohol_by_weight(extract, sg))
    index = float(refractometer.index_of_sucrose(float(beer.real_extract(extract, abw)))) + float(refractometer.index_of_ethanol(abw))
    scale = np.linspace(0.0, 40.0, 40001)
    return float(np.interp(index, refractometer.index_of_sucrose(scale), scale)) * wort_factor


@dataclass(slots=True)
class Bench:
    """The instruments of one batch, with their own seeded noise."""

    seed: int
    calibrated_at: float = 20.0
    """°C, the hydrometer's."""
    wort_factor: float = 1.04
    noise: Noise = field(default_factory=Noise)
    _random: random.Random | None = None

    def wobble(self, spread: float) -> float:
        """Draw an error of this standard uncertainty."""
        if self._random is None:
            self._random = random.Random(self.seed)
        return self._random.gauss(0.0, spread)

    def _gravity(self, sg: float, unit: str, sample: float | None, original: float | None) -> float:
        if unit == "°Bx":
            return refractometer_reading(sg, original, self.wort_factor) + self.wobble(self.noise.brix)
        at = self.calibrated_at if sample is None else sample + self.wobble(self.noise.temperature)
        seen = hydrometer_reading(sg, at, self.calibrated_at) + self.wobble(self.noise.gravity)
        return float(sucrose.extract_from_sg(seen)) if unit == "°P" else seen

    def read(self, what: str, true: float, unit: str, at: float | None, original: float | None, step: str | None) -> str:
        """Return what is written down.

        Args:
            what: gravity, volume, liquor, grist, sugar, temperature, ph or duration.
            true: SG 20/20, L at 20 °C, kg, °C, pH or min.
            unit: the unit of the instrument.
            at: temperature of the sample or of the measured volume, °C.
            original: true original gravity of a beer, SG 20/20; None for wort.
            step: what the brewer rounds to; None for the instrument's own mark.

        """
        match what:
            case "gravity":
                value = self._gravity(true, unit, at, original)
            case "volume" | "liquor":
                hot = 1.0 if at is None else float(water.density(20.0)) / float(water.density(at))
                value = in_unit(true * hot * (1.0 + self.wobble(self.noise.volume)), unit)
            case "grist" | "sugar":
                value = in_unit(true * (1.0 + self.wobble(self.noise.mass)), unit)
            case "temperature":
                value = in_unit(true + self.wobble(self.noise.temperature), unit)
            case "ph":
                value = true + self.wobble(self.noise.ph)
            case _:
                value = true
        return rounded(value, step or DEFAULT_STEPS[unit])
