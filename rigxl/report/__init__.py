"""A checked schedule on paper: the working of every row, and a report to be signed."""
