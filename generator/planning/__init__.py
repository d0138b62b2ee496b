"""A plan before its brew day: found in the journal, changed on trial, scaled to another volume."""

from generator.analysis.report import report
from generator.planning.batches import Found, NoSuchBatchError, find, is_batch_folder, journal_of
from generator.planning.overrides import NoChangeError, changed, parse
from generator.planning.scaling import scaled

__all__ = ["Found", "NoChangeError", "NoSuchBatchError", "changed", "find", "is_batch_folder", "journal_of", "parse", "report", "scaled"]
