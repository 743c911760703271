"""Checks schedules of rigging hardware in office workbooks and marks the rows that fail."""

__version__ = "0.1.0"
