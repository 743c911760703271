"""Workbooks that we hand out: a blank schedule that also works where no add-in is installed."""
