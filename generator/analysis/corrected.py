"""Readings referred to 20 °C, as samples: one per row, kept so that all figures of a batch share it."""

from generator.analysis.doubt import Absent, Sampler
from generator.records.fields import Doubt
from generator.records.models import Instruments
from generator.records.readings import Reading
from generator.science import hydrometer, refractometer, sucrose, water
from generator.science._values import OutOfRangeError, Values

_GRAVITY_LIMITS = {"SG": (0.980, 1.200), "°P": (-5.0, 45.0), "°Bx": (0.0, 50.0)}
_COLDEST, _HOTTEST = -10.0, 110.0
_INSTRUMENTS = {"liter": "volumes", "kilogram": "scales", "degC": "thermometer"}
"""What a reading in this unit is read with, as the split of a doubt names it."""


class Corrections:
    """Turns the readings of one batch into samples at 20 °C, each once."""

    def __init__(self, instruments: Instruments, sampler: Sampler) -> None:
        self.instruments, self.sampler = instruments, sampler
        self._amounts: dict[int, Values] = {}
        self._temperatures: dict[int, Values] = {}
        self._gravities: dict[int, Values] = {}
        self._extracts: dict[int, Values] = {}

    def half_width(self, reading: Reading) -> float:
        """Of the reading's own 95 % interval, in its unit."""
        kinds: dict[str, Doubt] = {
            "liter": self.instruments.volume, "kilogram": self.instruments.mass, "degC": self.instruments.temperature,
            "SG": self.instruments.gravity, "°Bx": self.instruments.refractometer,
        }  # fmt: skip
        doubt = reading.doubt or kinds.get(reading.unit)
        if doubt is None or reading.value is None:
            return 0.0
        return abs(reading.value) * doubt.value / 100.0 if doubt.relative else doubt.value

    def amount(self, reading: Reading) -> Values:
        """A mass, a duration or a volume as read, before any correction."""
        if reading.line not in self._amounts:
            self._amounts[reading.line] = self.sampler.normal(
                _value(reading), self.half_width(reading), low=0.0, source=_INSTRUMENTS.get(reading.unit, reading.what)
            )
        return self._amounts[reading.line]

    def temperature(self, reading: Reading) -> Values | None:
        """The temperature beside a reading; None where it wasn't written."""
        if reading.at is None:
            return None
        if reading.line not in self._temperatures:
            half = self.instruments.temperature.value
            self._temperatures[reading.line] = self.sampler.normal(reading.at, half, _COLDEST, _HOTTEST, source="thermometer")
        return self._temperatures[reading.line]

    def volume(self, reading: Reading) -> Values:
        """A volume at 20 °C; without a temperature it is taken as read there."""
        temperature = self.temperature(reading)
        volume = self.amount(reading)
        return volume if temperature is None else water.volume_at_20(volume, temperature)

    def water_mass(self, reading: Reading) -> Values:
        """Mass of a volume of liquor, kg."""
        temperature = self.temperature(reading)
        return self.amount(reading) * water.density(20.0 if temperature is None else temperature)

    def gravity(self, reading: Reading) -> Values:
        """SG 20/20 of wort: hydrometer with its glass, or refractometer before fermentation."""
        if reading.line not in self._gravities:
            self._gravities[reading.line] = self._wort_gravity(reading)
        return self._gravities[reading.line]

    def extract(self, reading: Reading) -> Values:
        """°P of wort."""
        self.gravity(reading)
        if reading.line not in self._extracts:
            self._extracts[reading.line] = sucrose.extract_from_sg(self._gravities[reading.line])
        return self._extracts[reading.line]

    def gravity_of_beer(self, reading: Reading, original_extract: Values) -> Values:
        """SG 20/20 of beer: hydrometer as for wort, refractometer by the model and its own doubt."""
        if reading.unit != "°Bx":
            return self.gravity(reading)
        if reading.line not in self._gravities:
            brix = self._raw(reading)
            try:
                sg = refractometer.sg_after_fermentation(brix, original_extract, self.instruments.refractometer_wort_factor)
            except OutOfRangeError as error:
                raise Absent(f"the refractometer reading in line {reading.line} fits no beer of this wort ({error})") from error
            self._gravities[reading.line] = sg + self.sampler.normal(0.0, refractometer.MODEL_DOUBT, source="refractometer in beer, the model")
        return self._gravities[reading.line]

    def _raw(self, reading: Reading) -> Values:
        source = "refractometer" if reading.unit == "°Bx" else "hydrometer"
        return self.sampler.normal(_value(reading), self.half_width(reading), *_GRAVITY_LIMITS[reading.unit], source=source)

    def _wort_gravity(self, reading: Reading) -> Values:
        if reading.unit == "°Bx":
            extract = refractometer.extract_before_fermentation(self._raw(reading), self.instruments.refractometer_wort_factor)
            self._extracts[reading.line] = extract
            return sucrose.sg_from_extract(extract)
        calibrated_at = self.instruments.hydrometer_calibrated_at
        temperature = self.temperature(reading)
        scale = self._hydrometer_scale(reading)
        if temperature is None and calibrated_at == water.REFERENCE_TEMPERATURE:
            return scale
        extract = hydrometer.extract(scale, calibrated_at if temperature is None else temperature, calibrated_at)
        self._extracts[reading.line] = extract
        return sucrose.sg_from_extract(extract)

    def _hydrometer_scale(self, reading: Reading) -> Values:
        """What the scale says, in SG; a doubt in SG applies to a °P reading after its conversion."""
        if reading.unit == "SG":
            return self._raw(reading)
        if reading.doubt is not None and reading.doubt.unit == "°P":
            return sucrose.sg_from_extract(self._raw(reading))
        doubt = reading.doubt or self.instruments.gravity
        return self.sampler.normal(float(sucrose.sg_from_extract(_value(reading))), doubt.value, *_GRAVITY_LIMITS["SG"], source="hydrometer")


def _value(reading: Reading) -> float:
    if reading.value is None:
        raise Absent(f"line {reading.line} holds no value")
    return reading.value
