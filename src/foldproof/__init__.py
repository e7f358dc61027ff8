"""Foldproof: measure, prove and make things of folded card."""

__version__ = "0.1.0"
