"""The only code that writes a site: staged beside its target, complete, then swapped in at once."""
