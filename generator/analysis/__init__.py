"""A batch understood: figures, ledger, cautions. Calls `science` at the readings and at a sample around them."""
