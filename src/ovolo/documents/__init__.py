"""The documents that people write and read.

Here the job: read, checked, resolved, started from a form. `plan` has the plan, `check` readings and what they show.
"""
