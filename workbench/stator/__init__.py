"""The trade, pure: patterns, the resistor network, copper, meters, readings and their verdicts.

Nothing here knows of a window, a store or a file.
"""
