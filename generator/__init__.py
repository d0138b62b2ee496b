"""Wortledger: batch folders in, a brewing journal out."""

__version__ = "0.1.0"
