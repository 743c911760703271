"""What changed between two versions of a schedule, and which verdicts changed because of it."""
