"""What is asked of every item, whatever its kind: the force on it, its rating, its marks, its inspection.

``judge`` puts these together with the kind's own rules into one verdict.
"""
