"""Workbook files: read truly, marked without losing what others put in them. Knows nothing of rigging."""
