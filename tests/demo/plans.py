"""A demo plan: its TOML text, the numbers the simulator takes from it, and what the README predicts from them."""

import tomllib
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

from generator.science import mash, sucrose
from tests.demo.quantities import quantity
from tests.demo.sheet import Sheet

JOURNAL = Path(__file__).resolve().parents[2] / "batches"


@dataclass(frozen=True)
class Plan:
    """A sheet, its plan.toml, and that file read back."""

    sheet: Sheet

    @cached_property
    def text(self) -> str:
        """The text of plan.toml."""
        return self.sheet.toml()

    @cached_property
    def table(self) -> dict[str, Any]:
        """The parsed file."""
        return tomllib.loads(self.text)

    @cached_property
    def brewhouse(self) -> dict[str, Any]:
        """The parsed brewhouse file that the plan names."""
        path = JOURNAL / "brewhouses" / f"{self.table['batch']['brewhouse']}.toml"
        return tomllib.loads(path.read_text(encoding="utf-8"))

    def _goods(self, added: str) -> list[dict[str, Any]]:
        return [good for good in self.table["grist"] if good.get("added", "mash") == added]

    @staticmethod
    def _extract(good: dict[str, Any]) -> float:
        values = (quantity(good["mass"]), quantity(good["extract"]), quantity(good.get("moisture", "4 %")))
        return float(mash.potential_extract(*values))

    @property
    def grist(self) -> float:
        """Mashed goods, kg."""
        return sum(quantity(good["mass"]) for good in self._goods("mash"))

    @property
    def potential(self) -> float:
        """Extract the mashed goods could give, kg."""
        return sum(self._extract(good) for good in self._goods("mash"))

    @property
    def moisture(self) -> float:
        """Water that the mashed goods bring, kg."""
        return sum(quantity(g["mass"]) * quantity(g.get("moisture", "4 %")) / 100.0 for g in self._goods("mash"))

    @property
    def boil_extract(self) -> float:
        """Extract of the goods added to the boil, kg."""
        return sum(self._extract(good) for good in self._goods("boil"))

    def target(self, key: str) -> float | None:
        """Return a target as L, °C, % or a bare number; None where the plan names none."""
        text = self.table.get("target", {}).get(key)
        return None if text is None else quantity(str(text))

    def liquor(self, key: str) -> float:
        """Return planned mash or sparge liquor, L; 0 where none is planned."""
        return quantity(self.table.get("liquor", {}).get(key, "0 L"))


@dataclass(frozen=True, slots=True)
class Prediction:
    """the README, section 2: what the rest of a plan predicts."""

    mash_efficiency: float
    """% by conversion and lautering alone."""
    pre_boil_volume: float
    """L at 20 °C."""
    run_off: float
    """L at 20 °C that the planned liquor gives when the grain keeps what the brewhouse file says."""
    pre_boil_gravity: float
    original_gravity: float
    final_gravity: float


def _lauter(plan: Plan, pre_boil: float) -> float:
    """Predict the lauter efficiency, a fraction."""
    per_litre = plan.grist / pre_boil
    retention = quantity(plan.brewhouse["mash"].get("retention", "1.0 L/kg"))
    sparge = plan.liquor("sparge")
    if sparge <= 0.0:
        return float(mash.lauter_without_sparge(per_litre, retention))
    return float(mash.lauter_with_one_sparge(per_litre, retention, (pre_boil - sparge) / pre_boil))


def _run_off(plan: Plan, conversion: float) -> float:
    """Predict from the liquor what runs into the kettle, L at 20 °C."""
    dissolved = conversion * plan.potential
    total = dissolved + plan.liquor("mash") * 0.9982 + plan.moisture
    retention = quantity(plan.brewhouse["mash"].get("retention", "1.0 L/kg"))
    return total / float(sucrose.density(100.0 * dissolved / total)) - retention * plan.grist + plan.liquor("sparge")


def predict(plan: Plan) -> Prediction:
    """Predict a batch from its plan and its brewhouse."""
    house = plan.brewhouse
    losses = quantity(house["boil"].get("kettle_loss", "0 L")) + quantity(house.get("transfer", {}).get("loss", "0 L"))
    hours = quantity(plan.table["boil"]["duration"]) / 60.0
    volume = plan.target("volume")
    assert volume is not None
    post_boil = plan.target("post_boil_volume") or volume + losses
    pre_boil = plan.target("pre_boil_volume") or post_boil + quantity(house["boil"]["evaporation"]) * hours
    conversion = (plan.target("conversion_efficiency") or 95.0) / 100.0
    predicted = 100.0 * conversion * _lauter(plan, pre_boil)
    extract = plan.potential * (plan.target("mash_efficiency") or predicted) / 100.0
    original = float(sucrose.sg_of_extract_mass(extract + plan.boil_extract, post_boil))
    planned = float(sucrose.extract_from_sg(plan.target("original_gravity") or original))
    attenuation = quantity(plan.table["yeast"]["attenuation"]) / 100.0
    return Prediction(
        mash_efficiency=predicted,
        pre_boil_volume=pre_boil,
        run_off=_run_off(plan, conversion),
        pre_boil_gravity=float(sucrose.sg_of_extract_mass(extract, pre_boil)),
        original_gravity=original,
        final_gravity=float(sucrose.sg_from_extract(planned * (1.0 - attenuation))),
    )
