"""Everything that knows HTML: one frozen dataclass a page (its contract), and pure functions from data to text."""
