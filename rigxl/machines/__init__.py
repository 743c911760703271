"""What scripts and build machines read: the JSON schema, SARIF, JUnit, and a baseline of what is known.

Forms of what a check found, and no judgement of their own.
"""
