"""What to order, from a schedule that was checked: lines of what passes, and what was not ordered and why."""
