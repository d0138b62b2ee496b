"""Everything that knows matplotlib: view data in, a Chart of themable, deterministic SVG out."""
