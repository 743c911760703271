"""Equations that would be true if no catalogue existed."""
