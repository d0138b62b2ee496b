"""The simulator behind the demo journal in batches/."""
