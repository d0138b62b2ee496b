"""The rules of the cautions, by the place of their hazard. `analysis.cautions` gathers them."""
