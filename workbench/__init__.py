"""The bench program of a small powersports electrical shop."""

__version__ = "0.1.0"
